namespace Companion.Contracts.Uplink;

/// <summary>What the watch room answers to a beat: durable before it is sent.</summary>
/// <param name="CheckIn">The sequence of the latest check-in it has kept for this job; 0 when none.</param>
/// <param name="Taken">The tablet's calls that somebody has taken.</param>
public sealed record BeatAnswer(long CheckIn, IReadOnlyList<TakenCall> Taken);

/// <summary>A call that somebody answers for now.</summary>
/// <param name="Id">The call's id.</param>
/// <param name="By">Who, by the name that the watch room knows.</param>
public sealed record TakenCall(string Id, string By);

/// <summary>What the watch room answers to a batch of entries: up to here it holds them, durably and in order.</summary>
/// <param name="Chain">The chain.</param>
/// <param name="Sequence">The last sequence held without a gap from the first; 0 for none.</param>
/// <param name="Head">The hash of that entry; 64 zeros for none.</param>
public sealed record BatchAnswer(string Chain, long Sequence, string Head);

/// <summary>Why a request was not accepted.</summary>
/// <param name="Reason">In plain words, with what to do.</param>
/// <param name="LeastCounter">The least counter that would be accepted, where the counter was the trouble.</param>
public sealed record Refused(string Reason, long? LeastCounter = null);
