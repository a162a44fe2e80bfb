namespace Companion.Domain.Sheets;

/// <summary>One step of the ordered list.</summary>
public sealed record Step
{
    /// <summary>Its id, unique in the sheet.</summary>
    public required StepId Id { get; init; }

    /// <summary>What kind of step it is.</summary>
    public required StepKind Kind { get; init; }

    /// <summary>What the technician hears and reads, from the maker's method.</summary>
    public required string Say { get; init; }

    /// <summary>The point of an open or lock step.</summary>
    public PointId? Point { get; init; }

    /// <summary>The wait of a wait step.</summary>
    public WaitId? Wait { get; init; }

    /// <summary>The test place of a test step.</summary>
    public TestPlaceId? TestPlace { get; init; }

    /// <summary>True when it exposes live parts or means working at them; refused alone unless the operator recorded another policy.</summary>
    public bool Exposes { get; init; }
}

/// <summary>Kinds of step.</summary>
public enum StepKind
{
    /// <summary>Something to do, confirmed in a word.</summary>
    Act,

    /// <summary>Open an isolation point; confirmed by code.</summary>
    Open,

    /// <summary>Fit lock and tag to an open point; confirmed by code.</summary>
    Lock,

    /// <summary>A wait must be over before the next step.</summary>
    Wait,

    /// <summary>The dead test at a test place.</summary>
    Test,

    /// <summary>Cover the side of the open plug that stays live; confirmed by code.</summary>
    Cover,

    /// <summary>Claim clear to work; confirmed by code. Always last.</summary>
    Clear,
}
