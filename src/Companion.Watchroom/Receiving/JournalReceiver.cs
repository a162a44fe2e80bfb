using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Linking;
using Companion.Journal.Reading;

namespace Companion.Watchroom.Receiving;

/// <summary>
/// Received journals on the watch room's disk: a folder for each device, a file for each chain, named by a hash so that no name from outside
/// becomes a path. A chain is checked whole before it is first added to. Nobody else writes here while it is open, so what was found out about a chain
/// for a list holds until it is added to or erased from: a list of thousands reads no file twice. Callable from any thread.
/// </summary>
public sealed class JournalReceiver : IJournalReceiver, IDisposable
{
    private const string LockName = "receiver.lock";
    private const string ChainSuffix = ".chain";
    private const int LongestDevice = 64;

    /// <summary>Chains whose index is kept in memory; the others are read again when they are needed.</summary>
    private const int MostLoaded = 64;

    private readonly ConcurrentDictionary<string, Slot> slots = new();
    private readonly string root;
    private readonly IDisk disk;
    private readonly IDisposable held;
    private long uses;

    private JournalReceiver(string root, IDisk disk, IDisposable held) => (this.root, this.disk, this.held) = (root, disk, held);

    /// <summary>Opens or makes the folder of received journals.</summary>
    /// <exception cref="StoreFaultException">It is open elsewhere, or the disk fails.</exception>
    public static JournalReceiver Open(string directory, IDisk? disk = null)
    {
        disk ??= new LocalDisk();
        try
        {
            disk.CreateDirectory(directory);
            disk.SyncDirectory(Path.GetDirectoryName(Path.GetFullPath(directory)) ?? directory);
            return new JournalReceiver(directory, disk, disk.Lock(Path.Combine(directory, LockName)));
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            throw new StoreFaultException(
                $"The folder of received journals {directory} cannot be used: it is open in another program, or the disk failed. Nothing is being received.", cause);
        }
    }

    /// <inheritdoc/>
    public async ValueTask<Receipt> TakeAsync(string device, Guid tablet, ReadOnlyMemory<byte> body, CancellationToken cancellation = default)
    {
        CheckDevice(device);

        // The writing may outlast the wait, and with it the caller's buffer.
        var own = cancellation.CanBeCanceled ? body.ToArray() : body;
        return await Task.Run(() => Take(device, tablet, own), CancellationToken.None).WaitAsync(cancellation).ConfigureAwait(false);
    }

    /// <inheritdoc/>
    public IReadOnlyList<HeldChain> Chains(string device)
    {
        CheckDevice(device);
        return [.. disk.Names(Folder(device))
            .Where(name => name.EndsWith(ChainSuffix, StringComparison.Ordinal))
            .Select(name => Summary(Path.Combine(Folder(device), name)))
            .OfType<HeldChain>()
            .OrderBy(chain => chain.Chain, StringComparer.Ordinal)];
    }

    /// <inheritdoc/>
    public IEnumerable<ReadOnlyMemory<byte>> Read(string device, string chain, long fromSequence = 1)
    {
        CheckDevice(device);
        return new LineLog(disk, PathOf(device, chain)).Lines()
            .SkipWhile(line => fromSequence > 1 && EntryCodec.ClaimedPlace(line) is { } place && place.Sequence < fromSequence);
    }

    /// <inheritdoc/>
    public int EraseSealed(string device, string chain, Func<JournalEntry, IReadOnlyCollection<string>> due)
    {
        CheckDevice(device);
        var path = PathOf(device, chain);
        var slot = SlotOf(path);
        lock (slot)
        {
            slot.Change(Interlocked.Increment(ref uses));
            try
            {
                slot.Index ??= Load(path);
                return slot.Index.Erase(due);
            }
            catch
            {
                // Which of the two files stands there now is found out by reading it.
                slot.Index = null;
                throw;
            }
        }
    }

    /// <inheritdoc/>
    public string StampOf(string device, string chain)
    {
        CheckDevice(device);
        var path = PathOf(device, chain);
        var slot = SlotOf(path);
        lock (slot)
        {
            return slot.Stamp ??= string.Join(' ', new[] { path, HeldIndex.ForkPath(path) }.Select(Length));
        }

        // Growth and erasure each change a length; that both cancel out to the byte is not to be expected.
        string Length(string file)
        {
            if (!disk.Exists(file))
            {
                return "0";
            }

            using var open = disk.OpenRead(file);
            return open.Length.ToString(System.Globalization.CultureInfo.InvariantCulture);
        }
    }

    /// <inheritdoc/>
    public HeldFault? DamageOf(string device, string chain)
    {
        CheckDevice(device);
        var path = PathOf(device, chain);

        // A batch that is being written is no damage.
        lock (slots.GetOrAdd(path, _ => new Slot()))
        {
            return HeldDamage.OfChain(disk, path) ?? HeldDamage.OfForks(disk, HeldIndex.ForkPath(path));
        }
    }

    /// <inheritdoc/>
    public IEnumerable<ReadOnlyMemory<byte>> ReadForks(string device, string chain)
    {
        CheckDevice(device);
        return new LineLog(disk, HeldIndex.ForkPath(PathOf(device, chain))).Lines();
    }

    /// <inheritdoc/>
    public void Dispose() => held.Dispose();

    private static void CheckDevice(string device)
    {
        if (device.Length is 0 or > LongestDevice || !device.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-'))
        {
            throw new ArgumentException($"'{device}' is not the name of a device: a-z, 0-9 and dashes, at most {LongestDevice}.", nameof(device));
        }
    }

    private Receipt Take(string device, Guid tablet, ReadOnlyMemory<byte> body)
    {
        var batch = ReceivedBatch.Of(body, tablet);
        if (batch.Chain is not { } chain)
        {
            return new Receipt(batch.Fault, null, batch.Reason);
        }

        var path = PathOf(device, chain);
        var slot = SlotOf(path);
        lock (slot)
        {
            slot.Change(Interlocked.Increment(ref uses));
            var wasLoaded = slot.Index is not null;
            var receipt = Take(slot, path, chain, batch);
            if (!wasLoaded)
            {
                Unload();
            }

            return receipt;
        }
    }

    private Receipt Take(Slot slot, string path, string chain, ReceivedBatch batch)
    {
        try
        {
            slot.Index ??= Load(path);
            if (slot.Index.Damage is { } damage)
            {
                return Answer(ReceiptOutcome.NotStored, $"What is held of this chain is damaged ({damage}). Keep {path} as it is and have somebody look; the tablet keeps its entries.");
            }

            if (batch.Fault != ReceiptOutcome.Taken)
            {
                return Answer(batch.Fault, batch.Reason);
            }

            if (slot.Index.Head == ChainHead.Empty)
            {
                MakeFolder(path);
            }

            var (outcome, reason) = slot.Index.Take(batch.Lines);
            return Answer(outcome, reason);
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            return Answer(ReceiptOutcome.NotStored, $"The disk does not take it ({cause.Message}). Free some space or mend the disk; the tablet sends it again.");
        }

        Receipt Answer(ReceiptOutcome outcome, string reason)
        {
            var head = slot.Index?.Head ?? ChainHead.Empty;
            return new Receipt(outcome, new BatchAnswer(chain, head.Sequence, head.Hash), reason);
        }
    }

    private HeldIndex Load(string path) => HeldIndex.Load(disk, path);

    private void MakeFolder(string path)
    {
        disk.CreateDirectory(Path.GetDirectoryName(path)!);
        disk.SyncDirectory(root);
    }

    /// <summary>Lets go of the index that was used longest ago, when too many are in memory and nobody is using it.</summary>
    private void Unload()
    {
        var loaded = slots.Values.Where(slot => slot.Index is not null).ToList();
        if (loaded.Count > MostLoaded && loaded.MinBy(slot => slot.LastUse) is { } oldest && Monitor.TryEnter(oldest))
        {
            oldest.Index = null;
            Monitor.Exit(oldest);
        }
    }

    private Slot SlotOf(string path) => slots.GetOrAdd(path, _ => new Slot());

    private HeldChain? Summary(string path)
    {
        var slot = SlotOf(path);
        lock (slot)
        {
            if (!slot.IsSummed)
            {
                (slot.Summary, slot.IsSummed) = (ReadSummary(path), true);
            }

            return slot.Summary;
        }
    }

    private HeldChain? ReadSummary(string path)
    {
        var last = new LineLog(disk, path).Lines().LastOrDefault();
        if (last.IsEmpty || LineReading.Of(last).Entry is not { } entry)
        {
            return null;
        }

        return new HeldChain(entry.Chain, entry.Sequence, entry.Hash, Forked: new LineLog(disk, HeldIndex.ForkPath(path)).Lines().Any());
    }

    private string Folder(string device) => Path.Combine(root, device);

    private string PathOf(string device, string chain) =>
        Path.Combine(Folder(device), Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(chain))) + ChainSuffix);

    private sealed class Slot
    {
        public HeldIndex? Index { get; set; }

        public long LastUse { get; private set; }

        /// <summary>What a list says of the chain; null also when nothing whole is held.</summary>
        public HeldChain? Summary { get; set; }

        public bool IsSummed { get; set; }

        public string? Stamp { get; set; }

        /// <summary>The files are about to change.</summary>
        public void Change(long use) => (LastUse, IsSummed, Stamp) = (use, false, null);
    }
}
