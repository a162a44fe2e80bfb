using System.Text;
using Companion.Contracts;
using Companion.Journal.Frames;
using Companion.Journal.Proof;
using Companion.Journal.Reading;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests;

/// <summary>Whoever looks back sees what can be read, and is told of everything else, at the very end too.</summary>
public sealed class LooseReadingTests
{
    private const string Job = "job-1";
    private const string Witness = Stores.Folder + "/companion.witness";

    [Fact]
    public async Task A_whole_export_opens_without_a_fault()
    {
        var reading = ExportReading.Of(Encoding.UTF8.GetBytes(await ExportAsync()));

        Assert.Equal(4, reading.EntriesOf(Job).Count);
        Assert.Empty(reading.FaultsOf(Job));
        Assert.Equal([Job], reading.Jobs);
    }

    [Fact]
    public async Task An_export_cut_within_its_last_line_opens_up_to_there_and_tells_it()
    {
        var export = await ExportAsync();
        var reading = ExportReading.Of(Encoding.UTF8.GetBytes(export[..^40]));

        Assert.Equal(3, reading.EntriesOf(Job).Count);
        Assert.Contains(reading.FaultsOf(Job), fault => fault.Words.Contains("the file was cut off there", StringComparison.Ordinal));
        Assert.Contains(reading.FaultsOf(Job), fault => fault.Words.Contains("signed 4 entries of this job, and the last that is here is 3", StringComparison.Ordinal));
    }

    // Cut between two lines nothing looks wrong by itself: only what the tablet signed tells it.
    [Fact]
    public async Task An_export_whose_last_line_is_gone_is_told_by_what_the_tablet_signed()
    {
        var lines = (await ExportAsync()).TrimEnd('\n').Split('\n');
        var reading = ExportReading.Of(Encoding.UTF8.GetBytes(string.Join('\n', lines[..^1]) + "\n"));

        var (sequence, words) = Assert.Single(reading.FaultsOf(Job));
        Assert.Equal(4, sequence);
        Assert.StartsWith("The end is missing", words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Garbage_behind_the_last_line_is_told_and_a_thousand_such_lines_are_counted()
    {
        var reading = ExportReading.Of(Encoding.UTF8.GetBytes(await ExportAsync() + string.Concat(Enumerable.Repeat("}{ \u0001\n", 1000))));

        Assert.Equal(4, reading.EntriesOf(Job).Count);
        Assert.Equal(LooseReading.MostTold + 1, reading.FaultsOf(Job).Count);
        Assert.Equal($"And {1000 - LooseReading.MostTold} more lines cannot be read.", reading.FaultsOf(Job)[^1].Words);
    }

    [Fact]
    public async Task An_altered_entry_is_left_out_and_told_at_its_place()
    {
        var reading = ExportReading.Of(Encoding.UTF8.GetBytes((await ExportAsync()).Replace("\"why\":\"tick\"", "\"why\":\"step\"", StringComparison.Ordinal)));

        Assert.Equal([1, 2, 4], reading.EntriesOf(Job).Select(entry => entry.Sequence));
        Assert.Equal(3, Assert.Single(reading.FaultsOf(Job)).Sequence);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(60)]
    public async Task Bytes_behind_the_end_of_a_stores_witness_are_told(int more)
    {
        var disk = await Stores.Small();
        Write(disk, Length(disk), new byte[more]);

        var reading = StoreReading.Read(Stores.Folder, Job, disk);

        Assert.Equal(4, reading.EntriesOf(Job).Count);
        Assert.StartsWith($"{more} bytes of this tablet's journal", Assert.Single(reading.FaultsOf(Job)).Words, StringComparison.Ordinal);
    }

    // The job's end and the signed head of it are in one frame: damage to it hides both.
    [Fact]
    public async Task A_damaged_last_frame_of_a_stores_witness_is_told_and_the_rest_opens()
    {
        var disk = await Stores.Small();
        Write(disk, Length(disk) - 5, [0xff]);

        var reading = StoreReading.Read(Stores.Folder, Job, disk);

        Assert.Equal(3, reading.EntriesOf(Job).Count);
        Assert.Contains("no whole entries", Assert.Single(reading.FaultsOf(Job)).Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Entries_behind_a_damaged_place_of_a_stores_witness_are_read_too()
    {
        var disk = await Stores.Small();
        using (var file = disk.OpenRead(Witness))
        {
            var reader = new FrameReader(file);
            _ = reader.Whole().Skip(1).First();
            Write(disk, reader.WholeEnd + FrameFile.HeaderLength + 3, [0xff]);
        }

        var reading = StoreReading.Read(Stores.Folder, Job, disk);

        Assert.Equal(4, reading.EntriesOf(Job)[^1].Sequence);
        Assert.True(reading.EntriesOf(Job).Count < 4);
        Assert.NotEmpty(reading.FaultsOf(Job));
    }

    private static async Task<string> ExportAsync()
    {
        using var output = new MemoryStream();
        JournalExport.Write(Stores.Folder, output, disk: await Stores.Small());
        return Encoding.UTF8.GetString(output.ToArray());
    }

    private static long Length(SimulatedDisk disk)
    {
        using var file = disk.OpenRead(Witness);
        return file.Length;
    }

    private static void Write(SimulatedDisk disk, long offset, byte[] bytes)
    {
        using var file = disk.OpenShared(Witness);
        file.Write(offset, bytes);
    }
}
