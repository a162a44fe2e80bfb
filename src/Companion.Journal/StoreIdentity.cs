using Companion.Contracts;

namespace Companion.Journal;

/// <summary>What a store is, fixed by its first entry.</summary>
/// <param name="Tablet">The tablet that writes it.</param>
/// <param name="Kind">Real or rehearsal.</param>
public sealed record StoreIdentity(Guid Tablet, StoreKind Kind);
