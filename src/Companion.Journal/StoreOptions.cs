using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Heads;

namespace Companion.Journal;

/// <summary>How to open a store.</summary>
/// <param name="Clock">Tells the moment of the store's own entries (created, segment, heads asked for).</param>
public sealed record StoreOptions(IClock Clock)
{
    /// <summary>The kind a store must be of; needed for a new one, null takes an existing one as it is.</summary>
    public StoreKind? Kind { get; init; }

    /// <summary>The tablet's identity for a new store; null lets the store choose. An existing store keeps its own.</summary>
    public Guid? TabletId { get; init; }

    /// <summary>The file system.</summary>
    public IDisk Disk { get; init; } = new LocalDisk();

    /// <summary>Where salts of personal texts come from.</summary>
    public ISaltSource Salts { get; init; } = new RandomSalts();

    /// <summary>What people call the program that keeps the store: a store that fails says what to start again.</summary>
    public string Program { get; init; } = "the app";

    /// <summary>What a person does when starting it again does not help, after "if it comes back".</summary>
    public string Otherwise { get; init; } = "use another tablet and keep this one for the team lead";

    /// <summary>Signs heads; null uses the key file in the store, made when missing.</summary>
    public IHeadSigner? Signer { get; init; }
}
