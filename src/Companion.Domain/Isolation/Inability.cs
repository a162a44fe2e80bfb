namespace Companion.Domain.Isolation;

/// <summary>A step that the technician said cannot be done.</summary>
/// <param name="Step">The step.</param>
/// <param name="Reason">Why; null until said.</param>
public sealed record Inability(StepId Step, InabilityReason? Reason);

/// <summary>Why a step cannot be done.</summary>
public enum InabilityReason
{
    /// <summary>The point does not exist on this vehicle: the sheet is the wrong one, the job stops.</summary>
    NotThere,

    /// <summary>It cannot be reached.</summary>
    CannotReach,

    /// <summary>It is damaged.</summary>
    Damaged,

    /// <summary>It does not move.</summary>
    Stuck,

    /// <summary>The tool for it is missing.</summary>
    NoTool,
}
