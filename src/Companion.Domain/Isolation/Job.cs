using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Domain.Isolation;

/// <summary>
/// One attendance at one vehicle, as the fold over its journal entries. Immutable; everything that rules, screens and prompts
/// say about a job is derived from it and a <see cref="Moment"/>.
/// </summary>
public sealed record Job
{
    /// <summary>The job's id and the name of its chain.</summary>
    public required string Id { get; init; }

    /// <summary>Sequence of the last entry.</summary>
    public required long Sequence { get; init; }

    /// <summary>The clocks as the entries showed them.</summary>
    public required JobClock Clock { get; init; }

    /// <summary>The crew number of the technician.</summary>
    public required string Technician { get; init; }

    /// <summary>True when a second person is there.</summary>
    public bool HasSecondPerson { get; init; }

    /// <summary>True in a rehearsal store.</summary>
    public bool Rehearsal { get; init; }

    /// <summary>The operator's policy for steps that expose live parts.</summary>
    public ExposurePolicy Policy { get; init; }

    /// <summary>How glove classes are read.</summary>
    public RatingPolicy Rating { get; init; }

    /// <summary>The equipment that was brought.</summary>
    public ImmutableArray<KitItem> Kit { get; init; } = [];

    /// <summary>True once the spoken code came back.</summary>
    public bool SoundChecked { get; init; }

    /// <summary>The pinned sheet and the way that is followed; null until chosen.</summary>
    public SheetWay? Way { get; init; }

    /// <summary>SHA-256 of the pinned sheet's canonical form.</summary>
    public string? SheetDigest { get; init; }

    /// <summary>Equipment that was looked over in this job and may be used.</summary>
    public ImmutableHashSet<KitId> Checked { get; init; } = [];

    /// <summary>Act and cover steps that were confirmed.</summary>
    public ImmutableHashSet<StepId> Done { get; init; } = [];

    /// <summary>The points that are open.</summary>
    public ImmutableDictionary<PointId, PointState> Points { get; init; } = ImmutableDictionary<PointId, PointState>.Empty;

    /// <summary>True once a point was opened, whatever happened to it afterwards.</summary>
    public bool EverOpened { get; init; }

    /// <summary>The waits that run or are over and have not been voided.</summary>
    public ImmutableDictionary<WaitId, WaitRun> Waits { get; init; } = ImmutableDictionary<WaitId, WaitRun>.Empty;

    /// <summary>The dead test in progress.</summary>
    public DeadTest? Test { get; init; }

    /// <summary>Places that are proved dead and not disturbed since.</summary>
    public ImmutableDictionary<TestPlaceId, Proof> Proofs { get; init; } = ImmutableDictionary<TestPlaceId, Proof>.Empty;

    /// <summary>Clear to work, while it lasts.</summary>
    public Clearance? Clearance { get; init; }

    /// <summary>True after a gap until the technician has confirmed that nothing was touched.</summary>
    public bool Doubt { get; init; }

    /// <summary>Why the job does not go on, if it does not.</summary>
    public Halt? Halt { get; init; }

    /// <summary>The alarms that wait to be answered, oldest first. A later one never takes the place of one that nobody has answered (I19).</summary>
    public ImmutableArray<Alarm> Alarms { get; init; } = [];

    /// <summary>The alarm that is answered next: the latest.</summary>
    public Alarm? Alarm => Alarms.IsEmpty ? null : Alarms[^1];

    /// <summary>The step that cannot be done, until its consequence is settled.</summary>
    public Inability? Inability { get; init; }

    /// <summary>The one question that is open.</summary>
    public Question? Question { get; init; }

    /// <summary>Closed or handed over.</summary>
    public bool Ended { get; init; }

    /// <summary>The pinned sheet.</summary>
    public Sheet? Sheet => Way?.Sheet;

    /// <summary>True while a wait runs.</summary>
    public bool HasRunningWait => Waits.Values.Any(run => run.CompletedAt is null);

    /// <summary>True while a wait or deadline runs, so that anchors must be written.</summary>
    public bool ClockRuns => HasRunningWait || Clearance is not null || Test is not null;

    /// <summary>True once anything was opened: from then on a gap must be accounted for.</summary>
    public bool IsolationBegun => EverOpened;

    /// <summary>The first step of the way that is not satisfied; null before a sheet is chosen and after the last step.</summary>
    public Step? CurrentStep => Way?.Steps.FirstOrDefault(step => !StepRules.Satisfied(this, step));
}
