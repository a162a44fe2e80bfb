using System.Runtime.InteropServices;
using Companion.Journal.Disk;

namespace Companion.Simulation.Disk;

/// <summary>
/// A disk in memory whose power can be cut, which can fill up and which can fail. What was synced survives a cut; of what was not, a
/// seed decides: all of it, none, some writes in any order, or pieces of 512 bytes. Names made, changed or removed since their folder
/// was synced survive up to some point in their order, as on a file system that journals names.
/// </summary>
public sealed class SimulatedDisk : IDisk
{
    private readonly Dictionary<string, SimulatedFile> names = [];
    private readonly Dictionary<string, SimulatedFile> durableNames = [];
    private readonly List<Dictionary<string, SimulatedFile>> unsyncedNames = [];
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

    /// <summary>The operation that fails with <see cref="ErrorNumber"/>; when it is a sync, nothing it owed becomes durable later.</summary>
    public int? ErrorAt { get; set; }

    /// <summary>The system's number of that failure; 5 is an input or output error, 30 a read-only disk.</summary>
    public int ErrorNumber { get; set; } = 5;

    /// <summary>True when every operation after <see cref="ErrorAt"/> fails too.</summary>
    public bool ErrorLasts { get; set; }

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
            if (Operations >= FullFrom)
            {
                throw new IOException("No space left on device", DiskFull);
            }

            names.Add(path, file = new SimulatedFile());
            NoteNames();
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
            NoteNames();
            return;
        }

        directories.Remove(from);
        directories.Add(to);
        foreach (var path in names.Keys.Where(p => p.StartsWith(from + "/", StringComparison.Ordinal)).ToList())
        {
            names.Remove(path, out var moved);
            names[to + path[from.Length..]] = moved!;
        }

        NoteNames();
    }

    public void Delete(string path)
    {
        Step();
        names.Remove(path);
        NoteNames();
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

        // What other folders still owe survives all together or not at all from here on.
        unsyncedNames.Clear();
        if (names.Count != durableNames.Count || names.Any(n => !ReferenceEquals(durableNames.GetValueOrDefault(n.Key), n.Value)))
        {
            NoteNames();
        }
    }

    public IDisposable Lock(string path) => locks.Add(path) ? new Unlock(this, path) : throw new IOException("locked");

    /// <summary>The disk as it is found after the power came back.</summary>
    public SimulatedDisk AfterCut(Random chance)
    {
        var after = new SimulatedDisk();
        var reached = chance.Next(unsyncedNames.Count + 1);
        var survivors = reached == 0 ? durableNames : unsyncedNames[reached - 1];
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
    public void Damage(string path, Action<List<byte>> damage)
    {
        damage(names[path].Bytes);
        names[path].Settle();
    }

    /// <summary>Puts a file there, durable, with these bytes, replacing any of that name.</summary>
    public void Put(string path, IEnumerable<byte> content) => names[path] = durableNames[path] = new SimulatedFile(content);

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

        if (Operations == ErrorAt || (ErrorLasts && Operations > ErrorAt))
        {
            throw new IOException("The disk failed.", ErrorNumber);
        }
    }

    private void NoteNames() => unsyncedNames.Add(new Dictionary<string, SimulatedFile>(names));

    private const int DiskFull = 28;

    private sealed class Unlock(SimulatedDisk disk, string path) : IDisposable
    {
        public void Dispose() => disk.locks.Remove(path);
    }

    private sealed class Handle(SimulatedDisk disk, SimulatedFile file) : IDiskFile
    {
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
            try
            {
                disk.Step();
                if (disk.Operations >= disk.FullFrom && offset + bytes.Length > file.Bytes.Count)
                {
                    throw new IOException("No space left on device", DiskFull);
                }
            }
            catch (IOException cause) when (cause is not PowerCutException)
            {
                var half = bytes.Length / 2;
                file.ShortenLast(half);
                file.Apply(offset, bytes[..half]);
                throw;
            }

            file.Apply(offset, bytes);
        }

        public void SetLength(long length)
        {
            file.NoteLength(length);
            try
            {
                disk.Step();
            }
            catch (IOException cause) when (cause is not PowerCutException)
            {
                file.DropLast();
                throw;
            }

            file.ApplyLength(length);
        }

        public void Sync()
        {
            try
            {
                disk.Step();
            }
            catch (IOException cause) when (cause is not PowerCutException)
            {
                file.FailSync();
                throw;
            }

            disk.Syncs++;
            file.Sync();
        }

        public void Dispose()
        {
        }
    }
}
