namespace Companion.Journal.Proof;

/// <summary>What a check found.</summary>
/// <param name="Entries">Entries that hold, up to the first that does not.</param>
/// <param name="ChainCount">Chains they belong to.</param>
/// <param name="FirstBad">The first entry that does not hold; null when all do.</param>
/// <param name="Problems">What else is wrong: missing ends of chains, damaged pages.</param>
/// <param name="Notes">What is worth knowing and not wrong: segments, an interrupted write, what could not be checked.</param>
public sealed record VerifyReport(
    long Entries, int ChainCount, BadEntry? FirstBad, IReadOnlyList<string> Problems, IReadOnlyList<string> Notes)
{
    /// <summary>What was checked and holds, in plain words.</summary>
    public IReadOnlyList<string> Checked { get; init; } = [];

    /// <summary>True when nothing is wrong.</summary>
    public bool IsSound => FirstBad is null && Problems.Count == 0;

    /// <summary>0 when sound, 1 when not.</summary>
    public int ExitCode => IsSound ? 0 : 1;

    /// <summary>The report as lines of text, the verdict last.</summary>
    public IReadOnlyList<string> Lines()
    {
        var lines = new List<string>([.. Checked.Select(c => $"checked: {c}"), .. Notes.Select(n => $"note: {n}")]);
        if (FirstBad is { } bad)
        {
            lines.Add($"first bad entry: {bad.Chain}/{bad.Sequence}: {bad.What}");
        }

        lines.AddRange(Problems.Select(p => $"problem: {p}"));
        lines.Add($"{(IsSound ? "sound" : "not sound")}: {Entries} entries in {ChainCount} chains hold");
        return lines;
    }
}
