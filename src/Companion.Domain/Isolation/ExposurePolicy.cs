namespace Companion.Domain.Isolation;

/// <summary>The operator's recorded policy for steps that expose live parts.</summary>
public enum ExposurePolicy
{
    /// <summary>A second person must be there (the default; HSE guidance on lone working near exposed live conductors).</summary>
    SecondPerson,

    /// <summary>The operator allows them alone, and the record shows it.</summary>
    AloneAllowed,
}
