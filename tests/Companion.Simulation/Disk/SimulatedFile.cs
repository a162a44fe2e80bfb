using System.Runtime.InteropServices;

namespace Companion.Simulation.Disk;

/// <summary>One file of the simulated disk: what it holds, what of it is durable, and the changes in between.</summary>
public sealed class SimulatedFile
{
    private const int Sector = 512;

    private readonly List<(long Offset, byte[]? Bytes, long Length)> unsynced = [];
    private List<byte> durable;

    public SimulatedFile(IEnumerable<byte>? content = null)
    {
        Bytes = [.. content ?? []];
        durable = [.. Bytes];
    }

    public List<byte> Bytes { get; }

    public void Note(long offset, byte[] bytes) => unsynced.Add((offset, bytes, 0));

    public void NoteLength(long length) => unsynced.Add((0, null, length));

    public void Apply(long offset, ReadOnlySpan<byte> bytes) => Apply(Bytes, offset, bytes);

    public void ApplyLength(long length) => ApplyLength(Bytes, length);

    /// <summary>Everything noted is durable. Only what changed is copied: files are large and syncs many.</summary>
    public void Sync()
    {
        foreach (var (offset, bytes, length) in unsynced)
        {
            if (bytes is null)
            {
                ApplyLength(durable, length);
            }
            else
            {
                Apply(durable, offset, bytes);
            }
        }

        unsynced.Clear();
    }

    /// <summary>
    /// A sync that failed: the bytes can still be read, but the system has forgotten that it owes them to the disk, and a later sync
    /// has nothing to do.
    /// </summary>
    public void FailSync() => unsynced.Clear();

    /// <summary>The last change reached the file only with this many of its bytes.</summary>
    public void ShortenLast(int length) => unsynced[^1] = unsynced[^1] with { Bytes = unsynced[^1].Bytes![..length] };

    /// <summary>The last change did not happen.</summary>
    public void DropLast() => unsynced.RemoveAt(unsynced.Count - 1);

    /// <summary>Takes the bytes as they are for durable: what was changed behind everyone's back is on the disk.</summary>
    public void Settle()
    {
        durable = [.. Bytes];
        unsynced.Clear();
    }

    /// <summary>The file after a power cut: the durable bytes and, by chance, some of the unsynced changes in some order.</summary>
    public SimulatedFile AfterCut(Random chance)
    {
        var content = new List<byte>(durable);
        var changes = unsynced.ToList();
        switch (chance.Next(5))
        {
            case 0:
                changes.Clear();
                break;
            case 1:
                break;
            case 2:
                changes = changes[..chance.Next(changes.Count + 1)];
                break;
            case 3:
                changes = [.. changes.Where(_ => chance.Next(2) == 0)];
                break;
            default:
                changes.Reverse();
                break;
        }

        var torn = chance.Next(2) == 0;
        foreach (var (offset, bytes, length) in changes)
        {
            if (bytes is null)
            {
                ApplyLength(content, length);
            }
            else if (!torn)
            {
                Apply(content, offset, bytes);
            }
            else
            {
                Tear(content, offset, bytes, chance);
            }
        }

        return new SimulatedFile(content);
    }

    private static void Tear(List<byte> content, long offset, byte[] bytes, Random chance)
    {
        // Pieces arrive in any order, some never; the file may have grown already, with zeros where the bytes should be.
        if (chance.Next(2) == 0 && content.Count < offset + bytes.Length)
        {
            ApplyLength(content, offset + bytes.Length);
        }

        for (var start = 0; start < bytes.Length; start += Sector)
        {
            if (chance.Next(2) == 0)
            {
                Apply(content, offset + start, bytes.AsSpan(start, Math.Min(Sector, bytes.Length - start)));
            }
        }
    }

    private static void Apply(List<byte> content, long offset, ReadOnlySpan<byte> bytes)
    {
        if (content.Count < offset + bytes.Length)
        {
            ApplyLength(content, offset + bytes.Length);
        }

        bytes.CopyTo(CollectionsMarshal.AsSpan(content)[(int)offset..]);
    }

    private static void ApplyLength(List<byte> content, long length)
    {
        var before = content.Count;
        CollectionsMarshal.SetCount(content, (int)length);
        if (length > before)
        {
            CollectionsMarshal.AsSpan(content)[before..].Clear();
        }
    }
}
