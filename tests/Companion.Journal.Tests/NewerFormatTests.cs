using System.Text;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Linking;
using Companion.Journal.Proof;
using Companion.Journal.Reading;
using Companion.Journal.Tests.Support;

namespace Companion.Journal.Tests;

/// <summary>A journal that a newer Companion went on with is refused in words that help, and is never taken for damaged.</summary>
public sealed class NewerFormatTests
{
    private const string Reason = "version 2 of the format; this one reads up to 1. Update this machine";

    [Fact]
    public void An_export_with_newer_entries_is_not_called_sound_and_the_reason_is_told()
    {
        var folder = Directory.CreateTempSubdirectory("newer").FullName;
        var file = Path.Combine(folder, "job.ndjson");
        File.WriteAllText(file, Older() + "\n" + Newer() + "\n");

        var report = JournalVerifier.Verify(file);

        Assert.Equal(1, report.ExitCode);
        Assert.Contains(report.Lines(), line => line.StartsWith("first bad entry: job-1/2", StringComparison.Ordinal) && line.Contains(Reason, StringComparison.Ordinal));
        Directory.Delete(folder, recursive: true);
    }

    // What a later version changes cannot be known: a member more, a fraction, another order of members.
    [Fact]
    public void Of_a_newer_line_time_and_type_are_read_and_nothing_else_is_believed()
    {
        var read = LineReading.Of(Encoding.UTF8.GetBytes(Newer().Replace("\"data\":{", "\"extra\":0.5,\"data\":{", StringComparison.Ordinal)));

        Assert.Equal(("job-1", 2L, "wait.over", 2, "{}"), (read.Entry!.Chain, read.Entry.Sequence, read.Entry.Type, read.Entry.Format, read.Entry.Data));
    }

    [Fact]
    public void An_altered_line_of_this_version_is_no_newer_one()
    {
        var read = LineReading.Of(Encoding.UTF8.GetBytes(Older().Replace("\"technician\":\"t1\"", "\"technician\":\"t2\"", StringComparison.Ordinal)));

        Assert.Null(read.Entry);
        Assert.Contains("do not fit its hash", read.Fault, StringComparison.Ordinal);
    }

    // An older program that took it for damage would begin a new segment in a journal that is whole.
    [Fact]
    public async Task A_store_with_newer_entries_does_not_open_and_is_left_as_it_is()
    {
        var disk = await Stores.Small();
        var witness = disk.Names(Stores.Folder).Single(name => name.EndsWith(".witness", StringComparison.Ordinal) || name.StartsWith("witness", StringComparison.Ordinal));
        var path = Path.Combine(Stores.Folder, witness);
        using (var file = FrameFile.OpenAt(disk, path, LengthOf()))
        {
            file.Append(Encoding.UTF8.GetBytes(Newer()));
        }

        var (names, length) = (disk.Names(Stores.Folder), LengthOf());
        var fault = await Assert.ThrowsAsync<StoreFaultException>(() => Stores.OpenAsTheAppDoes(disk));

        Assert.Contains(Reason, fault.Message, StringComparison.Ordinal);
        Assert.Equal(names.Order(), disk.Names(Stores.Folder).Order());
        Assert.Equal(length, LengthOf());
        Assert.Contains(Reason, JournalVerifier.Verify(Stores.Folder, disk).FirstBad!.What, StringComparison.Ordinal);

        long LengthOf()
        {
            using var open = disk.OpenRead(path);
            return open.Length;
        }
    }

    private static string Older() => Encoding.UTF8.GetString(
        EntryCodec.Encode(Drafts.Of("job-1", "job.opened", """{"technician":"t1"}"""), new EntryPlace(Stores.Tablet, true, 1, ChainHash.None)).Bytes.Span);

    private static string Newer()
    {
        var entry = EntryCodec.Encode(Drafts.Of("job-1", "wait.over", """{"wait":"w1"}"""), new EntryPlace(Stores.Tablet, true, 2, ChainHash.None));
        return Encoding.UTF8.GetString(entry.Bytes.Span).Replace("urn:companion:journal:1", "urn:companion:journal:2", StringComparison.Ordinal);
    }
}
