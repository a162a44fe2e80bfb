using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Journal;

namespace Companion.Watchroom.Tests.Support;

/// <summary>Export lines of a tablet's real journal.</summary>
public static partial class Records
{
    /// <summary>One job's lines, in order.</summary>
    public static async Task<string[]> OfJobAsync(Guid tablet, string job, int entries, string reason = "as usual")
    {
        var folder = Directory.CreateTempSubdirectory("companion-record-").FullName;
        try
        {
            var clock = new StandingClock();
            await using var journal = await JournalStore.OpenAsync(folder, new StoreOptions(clock) { Kind = StoreKind.Real, TabletId = tablet });
            for (var n = 0; n < entries; n++)
            {
                await journal.AppendAsync([new EntryDraft(
                    job, n == 0 ? EntryTypes.JobOpened : "step.refused", clock.Now().Wall, "boot", n + 1, $$"""{"step":{{n}},"reason":"{{reason}}"}""", new Dictionary<string, string>())]);
            }

            return [.. journal.Read(job).Select(entry => Encoding.UTF8.GetString(entry.Bytes.Span))];
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>The body of a batch.</summary>
    public static byte[] Body(IEnumerable<string> lines) => Encoding.UTF8.GetBytes(string.Concat(lines.Select(line => line + "\n")));

    /// <summary>A first line with the hash that it ought to have, as a forger would compute it: only what it says can be refused.</summary>
    public static string Rehashed(string line)
    {
        var form = HashMember().Replace(line, string.Empty);
        var hash = Convert.ToHexStringLower(SHA256.HashData([.. new byte[32], .. Encoding.UTF8.GetBytes(form)]));
        return HashMember().Replace(line, $"\"hash\":\"{hash}\",");
    }

    [GeneratedRegex("\"hash\":\"[0-9a-f]{64}\",")]
    private static partial Regex HashMember();

    private sealed class StandingClock : IClock
    {
        public Moment Now() => new(new DateTimeOffset(2026, 3, 1, 9, 0, 0, TimeSpan.Zero), "boot", Ticks.OfSeconds(5), Ticks.OfSeconds(5));
    }
}
