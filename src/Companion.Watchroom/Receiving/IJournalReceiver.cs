using Companion.Contracts;
using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Receiving;

/// <summary>Keeps what tablets recorded, byte for byte, chain by chain. Callable from any thread; one chain is taken by one at a time.</summary>
public interface IJournalReceiver
{
    /// <summary>
    /// Takes a batch: export lines of one chain in rising order. What is already held is passed over; the rest must link on to it. Completes
    /// only when durable.
    /// </summary>
    /// <param name="device">From whom, found to be who it says.</param>
    /// <param name="tablet">The tablet id that this device paired with: entries of another are refused.</param>
    /// <param name="body">The lines as sent.</param>
    /// <param name="cancellation">Ends the wait, not the writing.</param>
    ValueTask<Receipt> TakeAsync(string device, Guid tablet, ReadOnlyMemory<byte> body, CancellationToken cancellation = default);

    /// <summary>The chains that are held of a device.</summary>
    IReadOnlyList<HeldChain> Chains(string device);

    /// <summary>The lines held of a chain, in order, as sent.</summary>
    IEnumerable<ReadOnlyMemory<byte>> Read(string device, string chain, long fromSequence = 1);

    /// <summary>Another text whenever a chain has grown or a personal text of it was erased; found without reading it.</summary>
    string StampOf(string device, string chain);

    /// <summary>What is wrong with the files that hold a chain and its forks; null when nothing is. Reads and checks the chain whole.</summary>
    HeldFault? DamageOf(string device, string chain);

    /// <summary>What came for a chain with other content than what is held, as sent, in order of arrival.</summary>
    IEnumerable<ReadOnlyMemory<byte>> ReadForks(string device, string chain);

    /// <summary>
    /// Erases personal texts, with their salts, that lie beside the entries of a chain and of its forks: durable when this returns. The entries
    /// themselves stay byte for byte, and what is sent again brings no text back, because a held entry is passed over. Returns how many there
    /// were; a chain that is damaged is left as it is.
    /// </summary>
    /// <param name="device">The device.</param>
    /// <param name="chain">The chain.</param>
    /// <param name="due">The names of an entry's members that are to be erased.</param>
    /// <exception cref="IOException">The disk fails: what was not erased still stands there.</exception>
    int EraseSealed(string device, string chain, Func<JournalEntry, IReadOnlyCollection<string>> due);
}

/// <summary>What became of a batch.</summary>
/// <param name="Outcome">Whether it was taken, and if not, why not.</param>
/// <param name="Answer">Up to where the chain is held; null when not even the chain is known.</param>
/// <param name="Reason">In plain words, with what to do; empty when taken.</param>
public sealed record Receipt(ReceiptOutcome Outcome, BatchAnswer? Answer, string Reason);

/// <summary>What can become of a batch.</summary>
public enum ReceiptOutcome
{
    /// <summary>Held, durably.</summary>
    Taken,

    /// <summary>Entries before it are missing: send from the answer's sequence on.</summary>
    Gap,

    /// <summary>A sequence is held with other content: both are kept, the first stays in the chain, and somebody must look.</summary>
    Fork,

    /// <summary>A line is not an entry, does not link, was made by another tablet, or has a personal text that does not fit.</summary>
    Broken,

    /// <summary>The entries are of a format version that this watch room does not know.</summary>
    WrongVersion,

    /// <summary>The disk does not take it: send it again later.</summary>
    NotStored,
}

/// <summary>What is wrong with what is held of a chain.</summary>
/// <param name="First">The first entry that does not fit: from there on nothing is decided by what is held. Null when every entry fits, and only what came with other content does not.</param>
/// <param name="Words">In plain words, with what to do.</param>
public sealed record HeldFault(long? First, string Words);

/// <summary>A chain that is held.</summary>
/// <param name="Chain">Its name.</param>
/// <param name="Sequence">The last sequence.</param>
/// <param name="Head">Its hash.</param>
/// <param name="Forked">True when other content came for a sequence that was held.</param>
public sealed record HeldChain(string Chain, long Sequence, string Head, bool Forked);
