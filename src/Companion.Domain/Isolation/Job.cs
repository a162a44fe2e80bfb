using System.Collections.Immutable;
using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Sound;
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

    /// <summary>Who else is there, by crew number as it was said; <see cref="Unnumbered"/> for one who was named when the job was opened.</summary>
    public ImmutableHashSet<string> Present { get; init; } = [];

    /// <summary>A second person whose crew number was not said.</summary>
    public const string Unnumbered = "second";

    /// <summary>True when a second person is there.</summary>
    public bool HasSecondPerson => !Present.IsEmpty;

    /// <summary>Who works on the vehicle under this isolation, by crew number, the technician first. Each has locks of their own.</summary>
    public ImmutableArray<string> Workers { get; init; } = [];

    /// <summary>The lock register: every lock that is fitted, also one on a point that is no longer known to be open.</summary>
    public ImmutableArray<FittedLock> Locks { get; init; } = [];

    /// <summary>True once the locks of the register came off at the hand-over, for locks of whoever took over.</summary>
    public bool LocksExchanged { get; init; }

    /// <summary>Tools that went to the vehicle; null until they were counted.</summary>
    public int? ToolsOut { get; init; }

    /// <summary>True once the work is done and the vehicle is being put back.</summary>
    public bool PuttingBack { get; init; }

    /// <summary>True once as many tools came back as went out, while putting back.</summary>
    public bool ToolsAreIn { get; init; }

    /// <summary>True while everybody is away from the vehicle, as it is put back: until a stop, a break, a gap or a disturbance.</summary>
    public bool EverybodyAway { get; init; }

    /// <summary>Points that were closed again, as far as somebody watched since.</summary>
    public ImmutableHashSet<PointId> Closed { get; init; } = [];

    /// <summary>Points that were opened at any time, each once, in order: what was touched since, or is of a way that was left, must be closed on the way back too.</summary>
    public ImmutableList<PointId> Opened { get; init; } = [];

    /// <summary>True from a break until its end.</summary>
    public bool OnBreak { get; init; }

    /// <summary>The last reading of every pair that was measured, watching readings among them, for whoever takes over.</summary>
    public ImmutableArray<LastReading> LastReadings { get; init; } = [];

    /// <summary>The id of the job at another vehicle of the same event; null when there is none.</summary>
    public string? Linked { get; init; }

    /// <summary>True in a rehearsal store.</summary>
    public bool Rehearsal { get; init; }

    /// <summary>The operator's policy for steps that expose live parts.</summary>
    public ExposurePolicy Policy { get; init; }

    /// <summary>How glove classes are read.</summary>
    public RatingPolicy Rating { get; init; }

    /// <summary>The equipment that was brought.</summary>
    public ImmutableArray<KitItem> Kit { get; init; } = [];

    /// <summary>The watch over the technician; null when nobody watches over this job.</summary>
    public CheckInWatch? CheckIn { get; init; }

    /// <summary>The watch room's word; null when the tablet has no watch room.</summary>
    public WatchroomLink? Link { get; init; }

    /// <summary>The operator's order to record the sound; null when none is recorded.</summary>
    public SoundPolicy? Sound { get; init; }

    /// <summary>True while sound is to be recorded: once it was announced and the technician has answered the sound check.</summary>
    public bool RecordsSound => Sound is not null && SoundChecked && !Ended;

    /// <summary>True once the spoken code came back.</summary>
    public bool SoundChecked { get; init; }

    /// <summary>Where the job is, in words, for whoever is called; null when it was not said or has been erased.</summary>
    public string? Place { get; init; }

    /// <summary>How far the arrival list is settled; null when the job was opened without one.</summary>
    public Scene? Scene { get; init; }

    /// <summary>The stand-off, once it began. It never ends within the job.</summary>
    public StandOff? StandOff { get; init; }

    /// <summary>The pinned sheet and the way that is followed; null until chosen.</summary>
    public SheetWay? Way { get; init; }

    /// <summary>SHA-256 of the pinned sheet's canonical form.</summary>
    public string? SheetDigest { get; init; }

    /// <summary>Equipment that was looked over in this job and may be used.</summary>
    public ImmutableHashSet<KitId> Checked { get; init; } = [];

    /// <summary>Testers that did not show the known source and were not looked over since.</summary>
    public ImmutableHashSet<KitId> Failed { get; init; } = [];

    /// <summary>Act and cover steps that were confirmed.</summary>
    public ImmutableHashSet<StepId> Done { get; init; } = [];

    /// <summary>The points that are open.</summary>
    public ImmutableDictionary<PointId, PointState> Points { get; init; } = ImmutableDictionary<PointId, PointState>.Empty;

    /// <summary>True once a point was opened, whatever happened to it afterwards.</summary>
    public bool EverOpened => !Opened.IsEmpty;

    /// <summary>The waits that run or are over and have not been voided.</summary>
    public ImmutableDictionary<WaitId, WaitRun> Waits { get; init; } = ImmutableDictionary<WaitId, WaitRun>.Empty;

    /// <summary>Watching readings that still say something, oldest first; they never count for a proof.</summary>
    public ImmutableArray<Watched> Watched { get; init; } = [];

    /// <summary>The dead test in progress.</summary>
    public DeadTest? Test { get; init; }

    /// <summary>Places that are proved dead and not disturbed since.</summary>
    public ImmutableDictionary<TestPlaceId, Proof> Proofs { get; init; } = ImmutableDictionary<TestPlaceId, Proof>.Empty;

    /// <summary>The proof of a place as far as it counts now: none while nobody has confirmed that nothing was touched.</summary>
    public Proof? CountingProof(TestPlaceId place) => Doubt ? null : Proofs.GetValueOrDefault(place);

    /// <summary>Clear to work, while it lasts.</summary>
    public Clearance? Clearance { get; init; }

    /// <summary>
    /// CLOCK_BOOTTIME at which no proof counts any more, once clear to work was given on them. It outlasts clear to work: what lapses and is given
    /// again on the same proofs gains no time (I15).
    /// </summary>
    public Ticks? RetestDue { get; init; }

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
    public bool ClockRuns => HasRunningWait || RetestDue is not null || Test is not null || CheckIn is not null;

    /// <summary>True once anything was opened: from then on a gap must be accounted for.</summary>
    public bool IsolationBegun => EverOpened;

    /// <summary>The first step of the way that is not satisfied; null before a sheet is chosen and after the last step.</summary>
    public Step? CurrentStep => Way?.Steps.FirstOrDefault(step => !StepRules.Satisfied(this, step));
}
