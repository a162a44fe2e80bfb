using System.Collections.Immutable;
using Companion.Domain.Arrival;
using Companion.Domain.CheckIn;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sound;

namespace Companion.Screens.Starting;

/// <summary>What a job is opened with: the choices on the start screen, and what the operator and the store have settled.</summary>
/// <param name="Technicians">Who may hold a job.</param>
/// <param name="SecondPersons">Who may stand by.</param>
/// <param name="Kits">The kits that may be taken.</param>
/// <param name="Rehearsal">True in a rehearsal store.</param>
/// <param name="Policy">The operator's policy for steps that expose live parts.</param>
/// <param name="Rating">How glove classes are read.</param>
/// <param name="NewJobId">Gives the id of a new job.</param>
/// <param name="LatestWall">Gives the latest time ever journalled on this tablet.</param>
public sealed record JobOpening(
    ImmutableArray<CrewChoice> Technicians,
    ImmutableArray<CrewChoice> SecondPersons,
    ImmutableArray<KitList> Kits,
    bool Rehearsal,
    ExposurePolicy Policy,
    RatingPolicy Rating,
    Func<string> NewJobId,
    Func<DateTimeOffset> LatestWall)
{
    /// <summary>The operator's arrival list; null only in rehearsals that begin at the sheet.</summary>
    public ArrivalList? Arrival { get; init; }

    /// <summary>The operator's arrangement for watching over a lone worker; null when there is none.</summary>
    public CheckInPolicy? Watch { get; init; }

    /// <summary>True when the tablet is paired with a watch room.</summary>
    public bool HasWatchroom { get; init; }

    /// <summary>The operator's order to record the sound of jobs; null when none is recorded.</summary>
    public SoundPolicy? Sound { get; init; }
}
