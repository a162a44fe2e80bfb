using System.Runtime.InteropServices;
using Companion.Journal.Disk;

namespace Companion.Journal.Tests.Support;

/// <summary>
/// A disk in memory whose power can be cut and which can fill up. What was synced survives a cut; of what was not, a seed decides:
/// all of it, none, some writes in any order, or pieces of 512 bytes. Names survive only when their folder was synced.
/// </summary>
public sealed class SimulatedDisk : IDisk
{
    private readonly Dictionary<string, SimulatedFile> names = [];
    private readonly Dictionary<string, SimulatedFile> durableNames = [];
    private readonly HashSet<string> directories = [];
    private readonly HashSet<string> locks = [];

    /// <summary>Operations that change the disk, so far.</summary>
    public int Operations { get; private set; }

    /// <summary>Syncs of files and folders, so far.</summary>
    public int Syncs { get; private set; }

    /// <summary>The operation at which the power goes; nothing of it or after it happens, except by chance.</summary>
    public int? CutAt { get; set; }

    /// <summary>The operation from which every growing write fails with a full disk.</summary>
    public int? FullFrom { get; set; }

    public bool IsCut { get; private set; }

    public void CreateDirectory(string path)
    {
        Step();
        directories.Add(path);
    }

    public bool Exists(string path) => names.ContainsKey(path) || directories.Contains(path);

    public IReadOnlyList<string> Names(string directory) =>
        [.. names.Keys.Concat(directories).Where(p => Path.GetDirectoryName(p) == directory).Select(p => Path.GetFileName(p)!).Order(StringComparer.Ordinal)];

    public IDiskFile Open(string path) => OpenShared(path);

    public IDiskFile OpenShared(string path)
    {
        if (!names.TryGetValue(path, out var file))
        {
            Step();
            names.Add(path, file = new SimulatedFile());
        }

        return new Handle(this, file);
    }

    public IDiskFile OpenRead(string path) =>
        names.TryGetValue(path, out var file) ? new Handle(this, file) : throw new FileNotFoundException("not on the simulated disk", path);

    public IDiskFile CreatePrivate(string path) => OpenShared(path);

    public void Rename(string from, string to)
    {
        Step();
        if (names.Remove(from, out var file))
        {
            names[to] = file;
            return;
        }

        directories.Remove(from);
        directories.Add(to);
        foreach (var path in names.Keys.Where(p => p.StartsWith(from + "/", StringComparison.Ordinal)).ToList())
        {
            names.Remove(path, out var moved);
            names[to + path[from.Length..]] = moved!;
        }
    }

    public void Delete(string path)
    {
        Step();
        names.Remove(path);
    }

    public void SyncDirectory(string path)
    {
        Step();
        Syncs++;
        foreach (var gone in durableNames.Keys.Where(p => Path.GetDirectoryName(p) == path && !names.ContainsKey(p)).ToList())
        {
            durableNames.Remove(gone);
        }

        // A renamed folder takes its files along; journalling file systems keep that together.
        foreach (var (name, file) in names.Where(n => n.Key.StartsWith(path + "/", StringComparison.Ordinal)))
        {
            durableNames[name] = file;
        }
    }

    public IDisposable Lock(string path) => locks.Add(path) ? new Unlock(this, path) : throw new IOException("locked");

    /// <summary>The disk as it is found after the power came back.</summary>
    public SimulatedDisk AfterCut(Random chance)
    {
        var after = new SimulatedDisk();
        var survivors = chance.Next(2) == 0 ? durableNames : names;
        foreach (var (name, file) in survivors)
        {
            after.names[name] = after.durableNames[name] = file.AfterCut(chance);
            after.directories.Add(Path.GetDirectoryName(name)!);
        }

        return after;
    }

    /// <summary>The bytes of a file now.</summary>
    public byte[] Bytes(string path) => [.. names[path].Bytes];

    /// <summary>Changes bytes behind everyone's back.</summary>
    public void Damage(string path, Action<List<byte>> damage) => damage(names[path].Bytes);

    public IReadOnlyList<string> Files() => [.. names.Keys.Order(StringComparer.Ordinal)];

    public SimulatedDisk Copy()
    {
        var copy = new SimulatedDisk();
        foreach (var (name, file) in names)
        {
            copy.names[name] = copy.durableNames[name] = new SimulatedFile(file.Bytes);
            copy.directories.Add(Path.GetDirectoryName(name)!);
        }

        return copy;
    }

    private void Step()
    {
        if (IsCut || ++Operations == CutAt)
        {
            IsCut = true;
            throw new PowerCutException();
        }
    }

    private sealed class Unlock(SimulatedDisk disk, string path) : IDisposable
    {
        public void Dispose() => disk.locks.Remove(path);
    }

    private sealed class Handle(SimulatedDisk disk, SimulatedFile file) : IDiskFile
    {
        private const int DiskFull = 28;

        public long Length => file.Bytes.Count;

        public int Read(long offset, Span<byte> buffer)
        {
            var count = (int)Math.Clamp(file.Bytes.Count - offset, 0, buffer.Length);
            CollectionsMarshal.AsSpan(file.Bytes).Slice((int)Math.Min(offset, file.Bytes.Count), count).CopyTo(buffer);
            return count;
        }

        public void Write(long offset, ReadOnlySpan<byte> bytes)
        {
            // The write itself may be caught half-way: it is noted before the power goes.
            file.Note(offset, bytes.ToArray());
            disk.Step();
            if (disk.FullFrom is { } from && disk.Operations >= from && offset + bytes.Length > file.Bytes.Count)
            {
                file.Apply(offset, bytes[..(bytes.Length / 2)]);
                throw new IOException("No space left on device", DiskFull);
            }

            file.Apply(offset, bytes);
        }

        public void SetLength(long length)
        {
            file.NoteLength(length);
            disk.Step();
            file.ApplyLength(length);
        }

        public void Sync()
        {
            disk.Step();
            disk.Syncs++;
            file.Sync();
        }

        public void Dispose()
        {
        }
    }
}
