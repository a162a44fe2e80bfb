namespace Companion.Review.Lines;

/// <summary>A run of a wait, as a bar.</summary>
/// <param name="Started">Sequence of its start.</param>
/// <param name="Wait">What the sheet calls it; its id without a sheet.</param>
/// <param name="From">Start, nanoseconds since the chain's first entry.</param>
/// <param name="To">End there; the end of the record while it runs.</param>
/// <param name="RequiredSeconds">What the sheet requires.</param>
/// <param name="CountedSeconds">What the rules counted: gaps count nothing. Rounded down.</param>
/// <param name="End">How it ended.</param>
/// <param name="Reason">Why it is void; empty otherwise.</param>
public sealed record WaitBar(
    long Started, string Wait, long From, long To, int RequiredSeconds, long CountedSeconds, WaitEnd End, string Reason);

/// <summary>How a wait ended.</summary>
public enum WaitEnd
{
    /// <summary>It still ran at the end of the record.</summary>
    Running,

    /// <summary>It was over.</summary>
    Completed,

    /// <summary>It was voided.</summary>
    Voided,

    /// <summary>It started anew before the record told how it ended.</summary>
    StartedAnew,
}
