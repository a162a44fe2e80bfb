namespace Companion.Contracts;

/// <summary>What a store may hold: fixed by its first entry, for ever.</summary>
public enum StoreKind
{
    /// <summary>Real attendances.</summary>
    Real,

    /// <summary>Jobs driven by a script or a trainee; never mixed with real ones, never reaching real alerts.</summary>
    Rehearsal,
}
