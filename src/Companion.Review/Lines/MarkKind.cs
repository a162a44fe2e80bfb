namespace Companion.Review.Lines;

/// <summary>What a mark means. All but the first are grave: they are never thinned away beside a plain one.</summary>
public enum MarkKind
{
    /// <summary>Went as it should.</summary>
    Plain,

    /// <summary>A correction.</summary>
    Correction,

    /// <summary>A refusal.</summary>
    Refusal,

    /// <summary>A device, a clock or the record itself is in trouble.</summary>
    Trouble,

    /// <summary>A wait or proof is void, or what was earned has lapsed.</summary>
    Void,

    /// <summary>A reading above its limit.</summary>
    Live,

    /// <summary>An alert, a stop or a check-in that nobody answered.</summary>
    Alert,
}
