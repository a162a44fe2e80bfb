using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Frames;

namespace Companion.Watchroom.Watching;

/// <summary>
/// The book at one entry of the chain, in a file beside the journal: a shortcut by which a restarted watch room watches before its long chain
/// is read. It decides nothing: one that is missing, damaged or does not fit is passed over, and the chain is read. Frames, as everywhere: the
/// first holds the mark and the number of bytes that follow. Any thread.
/// </summary>
internal sealed record WatchSnapshot(WitnessMark Mark, DateTimeOffset At, WatchBook Book)
{
    private const string FileName = "watch.snapshot";
    private const string NewSuffix = ".new";
    private const int Format = 1;
    private const int FrameLength = 1 << 20;

    /// <summary>Reads it; null when there is none that can be read.</summary>
    public static WatchSnapshot? Read(IDisk disk, string directory)
    {
        try
        {
            var path = Path.Combine(directory, FileName);
            if (!disk.Exists(path))
            {
                return null;
            }

            using var file = disk.OpenRead(path);
            var frames = new FrameReader(file).Whole().ToList();
            var head = frames.Count > 0 ? JsonSerializer.Deserialize<Head>(frames[0], UplinkFormat.Json) : null;
            var bytes = frames.Skip(1).SelectMany(frame => frame).ToArray();
            return head is { Format: Format } && head.Length == bytes.Length && JsonSerializer.Deserialize<Content>(bytes, UplinkFormat.Json) is { } content
                ? new WatchSnapshot(head.Mark, head.At, content.Book())
                : null;
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException or JsonException or ArgumentException)
        {
            return null;
        }
    }

    /// <summary>Removes it: it holds names and places that were erased from the journal.</summary>
    public static void Remove(IDisk disk, string directory)
    {
        var path = Path.Combine(directory, FileName);
        if (disk.Exists(path))
        {
            disk.Delete(path);
            disk.SyncDirectory(directory);
        }
    }

    /// <summary>Lets go of one that is half written; the one before it stays. Never throws.</summary>
    public static void Discard(IDisk disk, string directory)
    {
        try
        {
            disk.Delete(Path.Combine(directory, FileName + NewSuffix));
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            // It is written over by the next one.
        }
    }

    /// <summary>Puts it in the place of the one before, durably.</summary>
    public void Write(IDisk disk, string directory)
    {
        var path = Path.Combine(directory, FileName);
        var bytes = JsonSerializer.SerializeToUtf8Bytes(Content.Of(Book), UplinkFormat.Json);
        var head = JsonSerializer.SerializeToUtf8Bytes(new Head(Format, Mark, At, bytes.Length), UplinkFormat.Json);
        FrameFile.WriteNew(disk, path + NewSuffix, [head, .. bytes.Chunk(FrameLength).Select(frame => new ReadOnlyMemory<byte>(frame))]);
        disk.Rename(path + NewSuffix, path);
        disk.SyncDirectory(directory);
    }

    /// <summary>What two books must agree in to be the same watch: not the beats, which lie in a file of their own.</summary>
    public static string Essentials(WatchBook book)
    {
        var watches = book.Live.Values.SelectMany(some => some).Select(watched => string.Create(
            CultureInfo.InvariantCulture, $"{watched.Id} {watched.Epoch} {watched.Silences} {watched.Shown.CheckIn} {watched.Shown.Due:O} {watched.Shown.OverdueFrom:O}"));
        var over = book.Over.Values.Select(watched => string.Create(CultureInfo.InvariantCulture, $"over {watched.Id} {watched.Shown.CheckIn}"));
        var alerts = book.Alerts.Values.Select(raised => $"{raised.Number} {raised.Alert.Id} {raised.Alert.Kind} {raised.Alert.Taken}");
        return string.Join('\n', watches.Concat(over).Concat(alerts).Order(StringComparer.Ordinal));
    }

    private sealed record Head(int Format, WitnessMark Mark, DateTimeOffset At, long Length);

    private sealed record Content(
        IReadOnlyList<Kept> Live, IReadOnlyList<Kept> Over, IReadOnlyList<Alert> Alerts, IReadOnlyList<BlindPeriod> Blind, DateTimeOffset GraceUntil)
    {
        public static Content Of(WatchBook book) => new(
            [.. book.Live.Values.SelectMany(some => some).Select(Kept.Of)],
            [.. book.Over.Values.Select(Kept.Of)],
            [.. book.Alerts.Values.OrderBy(raised => raised.Number).Select(raised => raised.Alert)],
            book.Blind,
            book.GraceUntil);

        public WatchBook Book() => new()
        {
            Live = Live.Select(kept => kept.Watched()).GroupBy(watched => watched.Id.Device).ToImmutableDictionary(some => some.Key, some => some.ToImmutableArray()),
            Over = Over.Select(kept => kept.Watched()).ToImmutableDictionary(watched => watched.Id),
            Alerts = Alerts.Select((alert, number) => (alert, number)).ToImmutableDictionary(raised => raised.alert.Id),
            Blind = [.. Blind],
            GraceUntil = GraceUntil,
        };
    }

    /// <summary>A watch as plain members.</summary>
    private sealed record Kept(
        bool Rehearsal, Watch Shown, long? Epoch, long Silences, bool Silent, DateTimeOffset? GoneSince, IReadOnlyDictionary<string, string> Calls, IReadOnlyList<string> Alerts)
    {
        /// <summary>Without the position: of those who are out it lies beside the beats, and of the others nowhere.</summary>
        public static Kept Of(Watched watched) => new(
            watched.Id.Rehearsal, watched.Shown with { Last = watched.Shown.Last with { Where = null } }, watched.Epoch, watched.Silences, watched.IsSilent, watched.GoneSince, watched.Calls, watched.Alerts);

        public Watched Watched() => new(new WatchId(Shown.Device, Shown.Job, Rehearsal), Shown)
        {
            Epoch = Epoch,
            Silences = Silences,
            IsSilent = Silent,
            GoneSince = GoneSince,
            Calls = Calls.ToImmutableDictionary(),
            Alerts = [.. Alerts],
        };
    }
}
