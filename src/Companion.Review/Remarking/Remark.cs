using System.Collections.Immutable;

namespace Companion.Review.Remarking;

/// <summary>Something in a record that is worth talking about. It tells what was recorded and never judges a person. Immutable.</summary>
/// <param name="Kind">What kind of thing.</param>
/// <param name="Weight">How soon to talk about it.</param>
/// <param name="Sequences">The entries it points to, the first of them where to look; never empty.</param>
/// <param name="Words">What was recorded, with its figures.</param>
public sealed record Remark(RemarkKind Kind, RemarkWeight Weight, ImmutableArray<long> Sequences, string Words);

/// <summary>How soon to talk about a remark, least first.</summary>
public enum RemarkWeight
{
    /// <summary>Good to know.</summary>
    Known,

    /// <summary>Worth a word.</summary>
    Word,

    /// <summary>To be looked at first.</summary>
    First,
}
