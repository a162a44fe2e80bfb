namespace Companion.Watchroom.Checking;

/// <summary>What the check page shows.</summary>
/// <param name="Verdict">Of the paper that was sent; null before one was.</param>
/// <param name="Problem">Why there is no verdict, with what to do; empty when there is one, or nothing was sent.</param>
public sealed record CheckModel(PaperVerdict? Verdict, string Problem)
{
    /// <summary>Before anything was sent.</summary>
    public static readonly CheckModel Nothing = new(null, string.Empty);
}
