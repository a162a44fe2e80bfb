namespace Companion.Screens.Showing;

/// <summary>A record that the watch room refuses.</summary>
/// <param name="Chain">Its chain: a job's id, or the tablet's own.</param>
/// <param name="Reason">The watch room's words.</param>
public sealed record RefusedRecord(string Chain, string Reason);
