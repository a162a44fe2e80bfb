using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Events;

/// <summary>A point is open.</summary>
public sealed record PointOpened(PointId Point) : JobEvent;

/// <summary>A lock and a tag are fitted.</summary>
public sealed record PointLocked(PointId Point, string Lock, string Tag, string Holder) : JobEvent;

/// <summary>A wait started.</summary>
public sealed record WaitStarted(WaitId Wait, CircuitId Circuit, int Seconds) : JobEvent;

/// <summary>A wait is over; nothing has been tested yet.</summary>
public sealed record WaitCompleted(WaitId Wait, CircuitId Circuit) : JobEvent;

/// <summary>A wait is void.</summary>
public sealed record WaitVoided(WaitId Wait, CircuitId Circuit, string Reason) : JobEvent;

/// <summary>The tester was held to the known source.</summary>
public sealed record TesterProved(KitId Tester, TestPlaceId TestPlace, ProvingPhase Phase, VoltageKind Kind, Volts Indicated, bool Ok)
    : JobEvent;

/// <summary>When the tester was proved.</summary>
public enum ProvingPhase
{
    /// <summary>Before the readings.</summary>
    Before,

    /// <summary>After them.</summary>
    After,
}

/// <summary>A confirmed reading. One of <paramref name="Volts"/> and <paramref name="Below"/> is set.</summary>
public sealed record ReadingTaken(
    TestPlaceId TestPlace, PairId Pair, Volts? Volts, Volts? Below, VoltageKind Kind, KitId Tester, ReadingPurpose Purpose) : JobEvent;

/// <summary>What a reading is for.</summary>
public enum ReadingPurpose
{
    /// <summary>Taken while waiting; never counts.</summary>
    Watching,

    /// <summary>Part of a dead test.</summary>
    DeadTest,
}

/// <summary>Bare metal under both probes was confirmed although every reading was zero.</summary>
public sealed record ContactConfirmed(TestPlaceId TestPlace) : JobEvent;

/// <summary>Proved dead at one place.</summary>
public sealed record DeadProved(TestPlaceId TestPlace, ImmutableArray<WaitId> Waits, ImmutableArray<long> Readings) : JobEvent;

/// <summary>"Proved dead" was refused, or the test ended as live or void.</summary>
public sealed record DeadRefused(TestPlaceId TestPlace, string Reason, long RemainingSeconds) : JobEvent;

/// <summary>A proof, or the dead test in progress, at a place is void.</summary>
public sealed record ProofVoided(TestPlaceId TestPlace, string Reason) : JobEvent;

/// <summary>A disturbance; the listed points must be opened again.</summary>
public sealed record DisturbanceReported(Disturbance What, ImmutableArray<CircuitId> Circuits, ImmutableArray<PointId> Points) : JobEvent;

/// <summary>Clear to work until a stated reading of CLOCK_BOOTTIME.</summary>
public sealed record WorkCleared(Ticks RetestDue) : JobEvent;

/// <summary>Work is stopped.</summary>
public sealed record WorkStopped(string Reason, bool Final) : JobEvent;

/// <summary>Clear to work has lapsed.</summary>
public sealed record WorkLapsed(string Reason) : JobEvent;

/// <summary>A warning that must be answered.</summary>
public sealed record AlertRaised(AlarmKind Kind, string Alert) : JobEvent;

/// <summary>The warning was answered.</summary>
public sealed record AlertTaken(long Alert, By By) : JobEvent;
