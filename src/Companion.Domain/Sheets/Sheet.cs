using System.Collections.Immutable;
using Companion.Domain.Electrical;

namespace Companion.Domain.Sheets;

/// <summary>
/// A shutdown sheet: one vehicle model's data as the operator wrote it from the maker's method. Immutable; a job pins its own copy.
/// </summary>
public sealed record Sheet
{
    /// <summary>The sheet's name in files and exports.</summary>
    public required string Id { get; init; }

    /// <summary>The short number by which it is called on the screen and by voice, 1 to 99.</summary>
    public required int Number { get; init; }

    /// <summary>The operator's edition of the sheet, rising.</summary>
    public required int Edition { get; init; }

    /// <summary>The vehicle in spoken words.</summary>
    public required string Vehicle { get; init; }

    /// <summary>Where the maker's marking is found and what it must say, so that the right sheet is chosen.</summary>
    public required string Marking { get; init; }

    /// <summary>The maker's document that it was written from.</summary>
    public required SheetSource Source { get; init; }

    /// <summary>Who approved it for use.</summary>
    public required string Approver { get; init; }

    /// <summary>True when it may only be used on a rehearsal store: any wait under 60 seconds demands it.</summary>
    public bool RehearsalOnly { get; init; }

    /// <summary>The highest voltage that the vehicle can hold, in volts DC. A reading above it stops the job.</summary>
    public required int HighestVolts { get; init; }

    /// <summary>False for a vehicle, such as a 48 volt mild hybrid, that by this sheet holds no voltage class B. It is worked on all the same.</summary>
    public bool HoldsClassB => VoltageLimits.IsClassB(Volts.Of(HighestVolts), Volts.Of(0));

    /// <summary>Clear to work lapses this many minutes after it was given.</summary>
    public required int RetestMinutes { get; init; }

    /// <summary>How far the rail-to-rail reading may be from the sum or difference of the rail-to-chassis readings.</summary>
    public required Volts FloorVolts { get; init; }

    /// <summary>What stays live after the job, in spoken words ("the pack and the battery side of the open plug").</summary>
    public required string StaysLive { get; init; }

    /// <summary>How the maker lets the vehicle be moved although its driven wheels turn, in spoken words; null when it does not.</summary>
    public string? Moving { get; init; }

    /// <summary>What stays charged, armed or awake together.</summary>
    public required ImmutableArray<Circuit> Circuits { get; init; }

    /// <summary>Where energy is opened, those of alternative ways included.</summary>
    public required ImmutableArray<IsolationPoint> Points { get; init; }

    /// <summary>The waits.</summary>
    public required ImmutableArray<WaitRule> Waits { get; init; }

    /// <summary>Where dead is tested.</summary>
    public required ImmutableArray<TestPlace> TestPlaces { get; init; }

    /// <summary>Disturbances with an effect of their own; any other one touches every circuit and every point.</summary>
    public ImmutableArray<DisturbanceRule> Disturbances { get; init; } = [];

    /// <summary>The one ordered list of steps across all points.</summary>
    public required ImmutableArray<Step> Steps { get; init; }

    /// <summary>Other ways for when a step cannot be done.</summary>
    public ImmutableArray<AlternativeWay> Alternatives { get; init; } = [];
}
