using System.Security.Cryptography;
using System.Text;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;
using Xunit.Abstractions;

namespace Companion.Journal.Tests;

/// <summary>
/// I12: a flipped bit anywhere in a small store is noticed or does no harm. One bit, chosen by a seed, of every byte, but of LiteDB's
/// pages only every sixty-first; COMPANION_BIT_FLIPS=8 tries all bits of every byte, and one of every byte of the pages.
/// </summary>
/// <remarks>
/// A page's checksum, CRC-32C, sees any single bit of its 8 KiB alike; and opening and verifying check pages by the same code.
/// </remarks>
public sealed class BitFlipTests(ITestOutputHelper output)
{
    private const string Sums = ".sums";

    private static readonly bool IsFull = Scale.Of("COMPANION_BIT_FLIPS", 1) == 8;

    /// <summary>Of so many bytes that verifying noticed, one is tried at opening too; those it did not notice all are.</summary>
    private static readonly int OpenedStep = IsFull ? 1 : 23;
    private static readonly int PagesOpenedStep = IsFull ? 211 : 997;
    private static readonly int PagesStep = IsFull ? 1 : 61;

    [Fact]
    public async Task A_flipped_bit_anywhere_in_a_closed_store_is_noticed_or_harmless() => await FlipEverywhere(await Stores.Small());

    [Fact]
    public async Task A_flipped_bit_anywhere_in_a_store_whose_process_was_killed_is_noticed_or_harmless() =>
        await FlipEverywhere(await Stores.Killed());

    private async Task FlipEverywhere(SimulatedDisk good)
    {
        var inspection = await Inspection.Of(good);
        output.WriteLine("file                     bytes  flips  noticed  harmless  harmless at");
        foreach (var path in good.Files())
        {
            var (flips, harmless) = await FlipFile(good, path, inspection);
            var name = Path.GetFileName(path);
            output.WriteLine($"{name,-22}{good.Bytes(path).Length,8}{flips,7}{flips - harmless.Count,9}{harmless.Count,10}  {Ranges(harmless)}");
            AssertHarmlessOnlyWhereNothingIsSaid(good, path, harmless);
        }
    }

    private static async Task<(int Flips, List<int> Harmless)> FlipFile(SimulatedDisk good, string path, Inspection inspection)
    {
        var harmless = new List<int>();
        var flips = 0;
        var chance = new Random(path.Length);
        var (step, openedStep) = IsPages(path) ? (PagesStep, PagesOpenedStep) : (1, OpenedStep);
        for (var at = 0; at < good.Bytes(path).Length; at += step)
        {
            var chosen = chance.Next(8);
            foreach (var bit in IsFull && !IsPages(path) ? Enumerable.Range(0, 8) : [chosen])
            {
                var where = $"bit {bit} of byte {at} of {path}";
                var changed = good.Copy();
                changed.Damage(path, bytes => bytes[at] ^= (byte)(1 << bit));
                var isNoticed = Inspection.IsNoticedByVerifying(changed, where);
                if (!isNoticed || (at % openedStep == 0 && bit == chosen))
                {
                    isNoticed |= (await inspection.Open(changed, where)).Count > 0;
                }

                flips++;
                if (!isNoticed)
                {
                    harmless.Add(at);
                }
            }
        }

        return (flips, harmless);
    }

    /// <summary>
    /// Harmless are: of the checksums, the place for a page's other state, the mark of the last write, and pages the file no longer
    /// has; of the key, what leaves the same key: ends of lines, numbers of its form. Everywhere else a flip is noticed.
    /// </summary>
    private static void AssertHarmlessOnlyWhereNothingIsSaid(SimulatedDisk good, string path, List<int> harmless)
    {
        if (path.EndsWith(Sums, StringComparison.Ordinal))
        {
            var pages = good.Bytes(path[..^Sums.Length]).Length / 8192;
            Assert.All(harmless.GroupBy(at => at / 8), record => Assert.True(
                record.Key == 0 || record.Key > pages || record.Select(at => at % 8 / 4).Distinct().Count() == 1,
                $"both checksums of page {record.Key - 1} of {path} can change unnoticed"));
        }
        else if (path.EndsWith("tablet.key", StringComparison.Ordinal))
        {
            var text = good.Bytes(path);
            Assert.All(harmless, at => Assert.True(Enumerable.Range(0, 8).Any(bit => HoldsTheSameKey(text, at, bit)), $"byte {at} of the key"));
        }
        else
        {
            Assert.Empty(harmless);
        }
    }

    private static bool HoldsTheSameKey(byte[] text, int at, int bit)
    {
        using var good = Key(text);
        var flipped = text.ToArray();
        flipped[at] ^= (byte)(1 << bit);
        try
        {
            using var read = Key(flipped);
            return read.ExportParameters(true).D!.SequenceEqual(good.ExportParameters(true).D!)
                && read.ExportSubjectPublicKeyInfo().SequenceEqual(good.ExportSubjectPublicKeyInfo());
        }
        catch (Exception cause) when (cause is ArgumentException or CryptographicException)
        {
            return false;
        }
    }

    private static ECDsa Key(byte[] text)
    {
        var key = ECDsa.Create();
        key.ImportFromPem(Encoding.ASCII.GetString(text));
        return key;
    }

    private static bool IsPages(string path) => path.EndsWith(".db", StringComparison.Ordinal) || path.EndsWith("-log", StringComparison.Ordinal);

    private static string Ranges(List<int> places)
    {
        var ranges = new List<string>();
        foreach (var at in places.Distinct())
        {
            if (ranges.Count > 0 && ranges[^1].Split('-')[^1] == $"{at - 1}")
            {
                ranges[^1] = $"{ranges[^1].Split('-')[0]}-{at}";
            }
            else
            {
                ranges.Add($"{at}");
            }
        }

        return string.Join(' ', ranges);
    }
}
