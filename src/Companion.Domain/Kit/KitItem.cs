using System.Collections.Immutable;
using Companion.Domain.Electrical;

namespace Companion.Domain.Kit;

/// <summary>
/// One piece of equipment with what is marked on it and known about it. What is unknown is null and counts as not good enough.
/// </summary>
public sealed record KitItem
{
    /// <summary>Its id, unique in the kit.</summary>
    public required KitId Id { get; init; }

    /// <summary>What it is.</summary>
    public required KitKind Kind { get; init; }

    /// <summary>Spoken name: "insulating gloves".</summary>
    public required string Name { get; init; }

    /// <summary>The serial number marked on it.</summary>
    public string? Serial { get; init; }

    /// <summary>The class of gloves or footwear.</summary>
    public GloveClass? Class { get; init; }

    /// <summary>The AC voltage marked on tools, or on footwear without a class.</summary>
    public Volts? RatedAc { get; init; }

    /// <summary>The DC voltage marked on tools, or on footwear without a class.</summary>
    public Volts? RatedDc { get; init; }

    /// <summary>The day of its last electrical test.</summary>
    public DateOnly? Tested { get; init; }

    /// <summary>The day it was first issued for use; null when it never was.</summary>
    public DateOnly? FirstIssue { get; init; }

    /// <summary>The last day it may be used by its own label (calibration, expiry), which can only shorten what the rules allow.</summary>
    public DateOnly? Due { get; init; }

    /// <summary>The highest DC voltage that a tester reads.</summary>
    public Volts? ReadsToDc { get; init; }

    /// <summary>The highest AC voltage that a tester reads.</summary>
    public Volts? ReadsToAc { get; init; }

    /// <summary>The lowest DC voltage that a tester indicates: the N of "below N".</summary>
    public Volts? LowestDc { get; init; }

    /// <summary>The lowest AC voltage that a tester indicates.</summary>
    public Volts? LowestAc { get; init; }

    /// <summary>What a proving source gives, one entry for each kind.</summary>
    public ImmutableArray<ProvingRange> Proves { get; init; } = [];

    /// <summary>How far a tester reads in one kind, or null when it does not.</summary>
    public Volts? ReadsTo(VoltageKind kind) => kind == VoltageKind.Dc ? ReadsToDc : ReadsToAc;

    /// <summary>The lowest voltage that a tester indicates in one kind, or null when unknown.</summary>
    public Volts? Lowest(VoltageKind kind) => kind == VoltageKind.Dc ? LowestDc : LowestAc;

    /// <summary>What a proving source gives in one kind, or null when it does not.</summary>
    public ProvingRange? ProvesIn(VoltageKind kind) => Proves.FirstOrDefault(range => range.Kind == kind);

    /// <summary>The highest DC voltage that gloves, footwear or tools may be used at, or null when nothing is marked.</summary>
    public Volts? MostAt(RatingPolicy policy) =>
        Class is { } marked ? marked.MostAt(policy) : policy == RatingPolicy.DcColumn ? RatedDc : RatedAc;
}
