namespace Companion.Uplink;

/// <summary>A chain that the watch room refuses: somebody has to look before it is taken.</summary>
/// <param name="Chain">The chain: a job's id, or the tablet's own.</param>
/// <param name="Reason">The watch room's words.</param>
public sealed record RefusedChain(string Chain, string Reason);
