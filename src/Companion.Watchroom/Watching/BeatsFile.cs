using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Journal.Disk;
using Companion.Journal.Frames;

namespace Companion.Watchroom.Watching;

/// <summary>
/// The file in which every second is marked as watched, and every beat is written down before it is answered: frames, synced. From it a restarted watch room
/// knows for how long it was blind, and where a tablet was when it was last heard. Losing its end costs accuracy, never a deadline. It is
/// written anew when it has grown, which also rids it of jobs that are over. Used by one thread; throws <see cref="IOException"/>.
/// </summary>
internal sealed class BeatsFile : IDisposable
{
    private const string FileName = "watch.beats";
    private const string NewSuffix = ".new";
    private const int BeatsAFrame = 200;
    private const long LongestGrowth = 8 << 20;

    private readonly FrameFile file;
    private long grown;

    private BeatsFile(FrameFile file) => this.file = file;

    /// <summary>True when it is time to write it anew.</summary>
    public bool IsLong => grown > LongestGrowth;

    /// <summary>The last second that was certainly watched, and the beats, oldest first. A torn end is passed over.</summary>
    public static (WatchedUntil? Seen, IReadOnlyList<BeatMark> Beats) Read(IDisk disk, string directory)
    {
        var path = Path.Combine(directory, FileName);
        if (!disk.Exists(path))
        {
            return (null, []);
        }

        using var source = disk.OpenRead(path);
        var marks = new List<BeatMark>();
        WatchedUntil? seen = null;
        foreach (var payload in new FrameReader(source).Whole())
        {
            if (Parsed(payload) is { } mark)
            {
                seen = new WatchedUntil(mark.Seen, mark.BootId, mark.Uptime);
                marks.AddRange(mark.Beats);
            }
        }

        return (seen, marks);
    }

    /// <summary>Writes the file anew with just these beats, and opens it.</summary>
    public static BeatsFile Rewrite(IDisk disk, string directory, WatchedUntil seen, IEnumerable<BeatMark> beats)
    {
        var path = Path.Combine(directory, FileName);
        disk.CreateDirectory(directory);
        FrameFile.WriteNew(disk, path + NewSuffix, Frames(seen, beats));
        disk.Rename(path + NewSuffix, path);
        disk.SyncDirectory(directory);
        using var written = disk.OpenRead(path);
        return new BeatsFile(FrameFile.OpenAt(disk, path, written.Length));
    }

    /// <summary>Marks a time as watched, with the beats that were heard.</summary>
    public void Append(WatchedUntil seen, IEnumerable<BeatMark> beats)
    {
        foreach (var frame in Frames(seen, beats))
        {
            file.Append(frame.Span);
            grown += frame.Length;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();

    private static IEnumerable<ReadOnlyMemory<byte>> Frames(WatchedUntil seen, IEnumerable<BeatMark> beats) =>
        beats.Chunk(BeatsAFrame).DefaultIfEmpty([])
            .Select(chunk => new ReadOnlyMemory<byte>(JsonSerializer.SerializeToUtf8Bytes(new Mark(seen.At, chunk) { BootId = seen.BootId, Uptime = seen.Uptime }, UplinkFormat.Json)));

    /// <summary>A mark of a version that is not known is passed over: it must not keep the watch from starting.</summary>
    private static Mark? Parsed(byte[] payload)
    {
        try
        {
            return JsonSerializer.Deserialize<Mark>(payload, UplinkFormat.Json);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private sealed record Mark(DateTimeOffset Seen, IReadOnlyList<BeatMark> Beats)
    {
        public string? BootId { get; init; }

        public long Uptime { get; init; }
    }
}
