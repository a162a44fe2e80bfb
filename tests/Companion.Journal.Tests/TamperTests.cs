using System.Text;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests;

public sealed class TamperTests
{
    private const string Witness = Stores.Folder + "/companion.witness";

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_changed_byte_anywhere_in_an_export_is_noticed(bool includeSealed)
    {
        var export = Export(await Stores.Small(), includeSealed);
        Assert.True(Verify(export).IsSound, string.Join("\n", Verify(export).Lines()));
        for (var i = 0; i < export.Length; i++)
        {
            var changed = export.ToArray();
            changed[i] ^= (byte)(1 << (i % 8));
            Assert.False(Verify(changed).IsSound, $"byte {i}");
        }
    }

    [Fact]
    public async Task A_byte_taken_from_or_put_into_an_export_is_noticed()
    {
        var export = Export(await Stores.Small(), includeSealed: true);

        // A store that has only been created is whole as it stands: nothing after its first entry could be known to be missing.
        var firstLine = Array.IndexOf(export, (byte)'\n') + 1;
        for (var i = 0; i < export.Length; i++)
        {
            Assert.False(Verify([.. export[..i], .. export[(i + 1)..]]).IsSound, $"without byte {i}");
            Assert.True(i == firstLine || !Verify(export[..i]).IsSound, $"cut at {i}");
        }
    }

    [Fact]
    public async Task A_line_taken_out_moved_or_doubled_is_noticed()
    {
        var lines = Encoding.UTF8.GetString(Export(await Stores.Small(), includeSealed: false)).TrimEnd('\n').Split('\n');
        for (var i = 0; i < lines.Length; i++)
        {
            Assert.False(Verify([.. lines[..i], .. lines[(i + 1)..]]).IsSound, $"without line {i}");
            Assert.False(Verify([.. lines[..i], lines[i], lines[i], .. lines[(i + 1)..]]).IsSound, $"line {i} twice");
        }
    }

    [Fact]
    public async Task The_first_bad_entry_is_named()
    {
        var text = Encoding.UTF8.GetString(Export(await Stores.Small(), includeSealed: false));
        var report = Verify(Encoding.UTF8.GetBytes(text.Replace("\"why\":\"tick\"", "\"why\":\"step\"", StringComparison.Ordinal)));
        Assert.Equal(("job-1", 3), (report.FirstBad!.Chain, report.FirstBad.Sequence));
        Assert.Contains("hash", report.FirstBad.What);
        Assert.Equal(1, report.ExitCode);
    }

    [Fact]
    public async Task A_changed_byte_anywhere_in_the_witness_is_noticed_by_verifying()
    {
        var disk = await Stores.Small();
        Assert.True(JournalVerifier.Verify(Stores.Folder, disk).IsSound, string.Join("\n", JournalVerifier.Verify(Stores.Folder, disk).Lines()));
        for (var i = 0; i < disk.Bytes(Witness).Length; i++)
        {
            disk.Damage(Witness, bytes => bytes[i] ^= (byte)(1 << (i % 8)));
            Assert.False(JournalVerifier.Verify(Stores.Folder, disk).IsSound, $"byte {i}");
            disk.Damage(Witness, bytes => bytes[i] ^= (byte)(1 << (i % 8)));
        }
    }

    [Fact]
    public async Task A_witness_cut_anywhere_is_noticed_by_verifying()
    {
        var disk = await Stores.Small();
        for (var length = 0; length < disk.Bytes(Witness).Length; length += 3)
        {
            var cut = disk.Copy();
            cut.Damage(Witness, bytes => bytes.RemoveRange(length, bytes.Count - length));
            Assert.False(JournalVerifier.Verify(Stores.Folder, cut).IsSound, $"cut at {length}");
        }
    }

    [Theory]
    [InlineData("companion.db", 97)]
    [InlineData("companion.sealed", 1)]
    public async Task A_changed_byte_in_the_other_files_is_noticed_by_verifying(string name, int step)
    {
        var disk = await Stores.Small();
        var path = $"{Stores.Folder}/{name}";
        for (var i = 0; i < disk.Bytes(path).Length; i += step)
        {
            disk.Damage(path, bytes => bytes[i] ^= 0x10);
            Assert.False(JournalVerifier.Verify(Stores.Folder, disk).IsSound, $"byte {i} of {name}");
            disk.Damage(path, bytes => bytes[i] ^= 0x10);
        }
    }

    private static byte[] Export(SimulatedDisk disk, bool includeSealed)
    {
        using var output = new MemoryStream();
        JournalExport.Write(Stores.Folder, output, includeSealed: includeSealed, disk: disk);
        return output.ToArray();
    }

    private static VerifyReport Verify(string[] lines) => Verify(Encoding.UTF8.GetBytes(string.Join('\n', lines) + "\n"));

    private static VerifyReport Verify(byte[] export)
    {
        var disk = new SimulatedDisk();
        using (var file = disk.Open("/out/export.ndjson"))
        {
            file.Write(0, export);
        }

        return JournalVerifier.Verify("/out/export.ndjson", disk);
    }
}
