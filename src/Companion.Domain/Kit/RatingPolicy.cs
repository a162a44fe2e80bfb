namespace Companion.Domain.Kit;

/// <summary>Which figure counts when protective equipment meets DC.</summary>
public enum RatingPolicy
{
    /// <summary>The AC figure counts for DC too: the cautious policy, and the default.</summary>
    AcFigure,

    /// <summary>The DC column counts. It is a maker's figure (1.5 times AC), so the operator must have chosen it.</summary>
    DcColumn,
}
