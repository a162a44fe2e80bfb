namespace Companion.Voice.Ear;

/// <summary>
/// When the ear stands by a phrase. Losses are natural logarithms of likelihood against the free phone path, 0 or less; all limits must be met.
/// Tuned with the network of 2026-11-25 on half of the human clips (by speaker) and on synthetic voices, at the grammars of nine steps. On the
/// other half, 198 foreign utterances at nine grammars each: 10 taken for a reading, none for a claim or a code; of 63 human words and digit
/// strings 89 % accepted clean, one wrongly.
/// </summary>
public sealed record EarThresholds
{
    /// <summary>Lowest mean loss per phone of the phrase.</summary>
    public double PerPhone { get; init; } = -0.5;

    /// <summary>Lowest mean loss per phone of the worst word.</summary>
    public double WorstWord { get; init; } = -2.2;

    /// <summary>Lowest loss outside the words: speech before or after the phrase costs here.</summary>
    public double Outside { get; init; } = -2;

    /// <summary>Least lead of the best phrase over the second best, in log-likelihood.</summary>
    public double Margin { get; init; } = 3;

    /// <summary>Slowest speech that still fits, in network frames (20 ms) per phone between the first phone and the last. The network may place the
    /// last phone of a short word late (up to 24 seen in "eight").</summary>
    public double MostFramesPerPhone { get; init; } = 26;

    /// <summary>
    /// Least signal-to-noise ratio in decibels at which a phrase that is not loose may be accepted. Wrong words among those accepted:
    /// 2 of 360 from 15 dB up, 8 of 221 from 3 to 10 dB; the hearing carries the ratio for rules that want more.
    /// </summary>
    public int LeastSignalToNoise { get; init; } = 6;

    /// <summary>A best phrase with a mean loss per phone below this is none of ours; between this and acceptance the ear is unsure.</summary>
    public double UnsurePerPhone { get; init; } = -2.2;

    /// <summary>For phrases that matter.</summary>
    public static EarThresholds Strict { get; } = new();

    /// <summary>For stop and help, where a false accept does no harm and a missed one may.</summary>
    public static EarThresholds Loose { get; } = new()
    {
        PerPhone = -1.8,
        WorstWord = -3.0,
        Outside = -12,
        Margin = 0.3,
        MostFramesPerPhone = 40,
        LeastSignalToNoise = int.MinValue,
        UnsurePerPhone = -2.8,
    };
}
