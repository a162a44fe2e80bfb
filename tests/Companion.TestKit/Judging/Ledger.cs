using System.Diagnostics.CodeAnalysis;
using Companion.Domain;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.TestKit.Judging;

/// <summary>
/// The oracle: reads nothing but the log and the true running time, knows nothing of <see cref="Job"/>, and objects to every entry that
/// section 3 of the design does not allow where it stands.
/// </summary>
public sealed class Ledger
{
    private readonly Dictionary<WaitId, WaitLine> _waits = [];
    private readonly Dictionary<PointId, long> _open = [];
    private readonly HashSet<StepId> _done = [];
    private readonly HashSet<TestPlaceId> _proved = [];
    private readonly TestLedger _tests = new();
    private readonly SceneLedger _scene = new();
    private readonly SecuringLedger _securing;
    private Moment? _last;
    private long _counted;
    private bool _cleared;
    private long? _due;
    private int _gaps;
    private ExposurePolicy _policy;
    private Ticks? _anchored;

    /// <summary>An empty log.</summary>
    public Ledger() => _securing = new SecuringLedger(() => Steps);

    /// <summary>The pinned sheet.</summary>
    public Sheet? Sheet { get; private set; }

    /// <summary>The steps of the way that is followed.</summary>
    public IReadOnlyList<Step> Steps { get; private set; } = [];

    /// <summary>Places that may still count as proved dead.</summary>
    public IReadOnlySet<TestPlaceId> Proved => _proved;

    /// <summary>True while clear to work may stand.</summary>
    public bool Cleared => _cleared;

    /// <summary>True after a gap until somebody confirmed that nothing was touched.</summary>
    public bool Doubt { get; private set; }

    /// <summary>Takes one entry.</summary>
    public void Take(Witnessed entry)
    {
        Count(entry);
        _scene.Take(entry);
        _securing.Take(entry);
        switch (entry.Event)
        {
            case JobOpened opened:
                _policy = opened.Policy;
                break;
            case SheetPinned pinned:
                Claim(Sheet is null, "I21: a second sheet");
                Sheet = pinned.Sheet;
                Steps = pinned.Sheet.Steps;
                break;
            case WayTaken taken:
                Steps = Sheet!.Alternatives.First(way => way.Id == taken.Way).Steps;
                LoseEverything();
                break;
            case ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume }:
                Doubt |= _open.Count > 0 || _waits.Count > 0 || _proved.Count > 0 || _securing.Begun;
                _tests.Abandon();
                _gaps++;
                break;
            case PhaseEntered { Which: JobPhase.Break }:
                Claim(_proved.Count == 0 && !_cleared, "I15: proofs survive a break");
                Doubt |= _securing.Begun;
                break;
            case PhaseEntered:
                Claim(_proved.Count == 0 && !_cleared && _waits.Count == 0, "I5: waits or proofs survive the end of the work");
                break;
            case PersonChanged { Change: PersonChange.TookOver }:
                Claim(_proved.Count == 0 && !_cleared, "I15: proofs survive a change of technician");
                break;
            case PersonChanged { Change: PersonChange.Joined }:
                Claim(!_cleared, "locks: clear to work survives that somebody joins without a lock");
                break;
            case StepConfirmed confirmed:
                Confirm(confirmed);
                break;
            default:
                Isolate(entry);
                break;
        }
    }

    /// <summary>What is left of the longest wait that runs for the first place not proved, by the log; null when something else is missing.</summary>
    public long? SecondsLeft(Moment now)
    {
        var place = PlacesInOrderOfSheet().FirstOrDefault(candidate => !_proved.Contains(candidate.Id));
        if (place is null || Doubt || PointsOf(place).Any(point => !_open.ContainsKey(point.Id)) || WaitsOf(place).Any(wait => !_waits.ContainsKey(wait.Id)))
        {
            return null;
        }

        var running = WaitsOf(place).Where(wait => !_waits[wait.Id].Over).ToList();
        return running.Count == 0 ? null : running.Max(wait =>
            Math.Max(1, (long)Math.Ceiling(((wait.Seconds * 1_000_000_000m) - (CountedAt(now) - _waits[wait.Id].StartedCounted)) / 1_000_000_000m)));
    }

    /// <summary>Waits that should have ended by now.</summary>
    public IEnumerable<WaitId> Overdue(Moment now) => Doubt ? [] : _waits
        .Where(line => !line.Value.Over && CountedAt(now) - line.Value.StartedCounted >= line.Value.Seconds * Ticks.PerSecond)
        .Select(line => line.Key);

    /// <summary>What is left of a wait by the log, never less than nothing; null when it does not run.</summary>
    public Ticks? Left(WaitId wait, Moment now)
    {
        if (!_waits.TryGetValue(wait, out var line) || line.Over)
        {
            return null;
        }

        return new Ticks(Math.Max(0, (line.Seconds * Ticks.PerSecond) - (CountedAt(now) - line.StartedCounted)));
    }

    /// <summary>I2: true when a wait runs and neither its start nor an anchor is younger than 10 s.</summary>
    public bool AnchorDue(Moment now) => !Doubt && _waits.Values.Any(line => !line.Over && now.Boot - line.StartedBoot >= Ticks.OfSeconds(10))
        && (_anchored is not { } anchored || now.Boot - anchored >= Ticks.OfSeconds(10));

    /// <summary>True when the next test is due of proofs on which clear to work was given, even if it has lapsed since.</summary>
    public bool Due(Moment now) => now.Boot.Nanoseconds >= _due;

    [SuppressMessage("Maintainability", "CA1502", Justification = "One line for each kind of entry.")]
    private void Isolate(Witnessed entry)
    {
        switch (entry.Event)
        {
            case PointOpened opened:
                InTurn(StepKind.Open, step => step.Point == opened.Point);
                Claim(!_securing.PuttingBack, "locks: a point opened while putting back");
                _open[opened.Point] = entry.Sequence;
                break;
            case PointLocked locked:
                _securing.Withhold(locked);
                InTurn(StepKind.Lock, step => step.Point == locked.Point);
                _securing.Fit(locked, entry.Sequence);
                break;
            case PointClosed closed:
                _open.Remove(closed.Point);
                break;
            case WaitStarted started:
                Start(started, entry);
                break;
            case WaitCompleted completed:
                Complete(completed, entry);
                break;
            case WaitVoided voided:
                _waits.Remove(voided.Wait);
                break;
            case DisturbanceReported reported:
                Disturb(reported);
                break;
            case ProofVoided voided:
                _proved.Remove(voided.TestPlace);
                _due = _proved.Count == 0 ? null : _due;
                _tests.Void(voided.TestPlace);
                break;
            case DeadProved proved:
                Prove(proved, entry);
                break;
            case WorkCleared cleared:
                Clear(cleared, entry);
                break;
            case WorkStopped:
                Claim(_proved.Count == 0, "I16: proofs survive a stop");
                _cleared = false;
                break;
            case WorkLapsed:
                _cleared = false;
                break;
            default:
                _tests.Take(entry, Sheet, Latest);
                break;
        }
    }

    private void Count(Witnessed entry)
    {
        _anchored = entry.Event is ClockAnchored ? entry.Moment.Boot : _anchored;

        if (entry.Event is not ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume } && _last is not null)
        {
            _counted = CountedAt(entry.Moment);
        }

        _last = entry.Moment;
    }

    private long CountedAt(Moment now) =>
        _last is { } last && last.BootId == now.BootId ? _counted + (now.Boot - last.Boot).Nanoseconds : _counted;

    private void Start(WaitStarted started, Witnessed entry)
    {
        var rule = Sheet!.Waits.First(wait => wait.Id == started.Wait);
        Claim(rule.Circuit == started.Circuit && rule.Seconds == started.Seconds, "I1: a wait that is not the sheet's");
        Claim(!Doubt && !_securing.PuttingBack, "I2: a wait started in doubt, or while putting back");
        Claim(!_waits.ContainsKey(started.Wait), "I1: a wait started twice");
        foreach (var point in WayPoints().Where(point => point.Feeds(rule.Circuit)))
        {
            Claim(_open.ContainsKey(point.Id), $"I1: {started.Wait} started while {point.Id} feeds it");
        }

        _waits[started.Wait] = new WaitLine(entry.Sequence, rule.Seconds, _counted, entry.Moment.Boot, entry.Running, _gaps, false);
    }

    private void Complete(WaitCompleted completed, Witnessed entry)
    {
        Claim(_waits.TryGetValue(completed.Wait, out var line) && !line.Over, "I1: a wait ended that did not run");
        var seconds = line!.Seconds * Ticks.PerSecond;
        Claim(_counted - line.StartedCounted >= seconds, $"I1: {completed.Wait} ended after {_counted - line.StartedCounted} ns by the log");

        // Sleep too short to tell from reading two clocks one after the other goes unnoticed, once for each time the clocks were compared anew.
        var unnoticed = 100_000_000L * (1 + _gaps - line.Gaps);
        Claim((entry.Running - line.StartedRunning).Nanoseconds + unnoticed >= seconds, $"I2: {completed.Wait} ended too early by the true clock");
        Claim(!Doubt, "I2: a wait ended in doubt");
        _waits[completed.Wait] = line with { Over = true, EndedAt = entry.Sequence };
    }

    /// <summary>What is undone was feeding its circuits: they are touched too.</summary>
    private void Disturb(DisturbanceReported reported)
    {
        var touched = reported.Circuits.ToHashSet();
        foreach (var point in Sheet?.Points.Where(point => reported.Points.Contains(point.Id)) ?? [])
        {
            touched.UnionWith(Sheet!.Circuits.Select(circuit => circuit.Id).Where(point.Feeds));
            _open.Remove(point.Id);
        }

        foreach (var wait in Sheet?.Waits.Where(wait => touched.Contains(wait.Circuit)) ?? [])
        {
            Claim(!_waits.ContainsKey(wait.Id), $"I5: {wait.Id} survives {reported.What}");
        }

        foreach (var place in Sheet?.TestPlaces.Where(place => touched.Any(place.Covers) || VoidChecks.Names(place, reported)) ?? [])
        {
            Claim(!_proved.Contains(place.Id), $"I5: the proof of {place.Id} survives {reported.What}");
            Claim(!_tests.RunsAt(place.Id), $"I5: the test at {place.Id} survives {reported.What}");
        }

        Claim(!_cleared, $"I5: clear to work survives {reported.What}");
        var moved = reported.What is Disturbance.WheelsTurned or Disturbance.VehicleTowed;
        _done.RemoveWhere(done => moved || Steps.Any(step => step.Id == done && step.Kind == StepKind.Cover));
        Doubt = reported.What != Disturbance.Unwatched && Doubt;
    }

    private void Confirm(StepConfirmed confirmed)
    {
        switch (confirmed.Question)
        {
            case NeedKind.Act or NeedKind.CoverLiveSide:
                InTurn(confirmed.Question == NeedKind.Act ? StepKind.Act : StepKind.Cover, step => step.Id.Value == confirmed.Step);
                _done.Add(new StepId(confirmed.Step));
                break;
            case NeedKind.NothingTouched:
                Doubt = false;
                break;
        }
    }

    private void Prove(DeadProved proved, Witnessed entry)
    {
        InTurn(StepKind.Test, step => step.TestPlace == proved.TestPlace);
        var place = Sheet!.TestPlaces.First(candidate => candidate.Id == proved.TestPlace);
        Claim(!Doubt, "I2: proved dead in doubt");
        Claim(proved.Waits.ToHashSet().SetEquals(WaitsOf(place).Select(wait => wait.Id)), "I1: the waits of the entry are not the place's");
        var ended = 0L;
        foreach (var wait in WaitsOf(place))
        {
            Claim(_waits.TryGetValue(wait.Id, out var line) && line.Over, $"I1: {place.Id} proved dead while {wait.Id} was not over");
            var opened = WayPoints().Where(point => point.Feeds(wait.Circuit)).Select(point => _open.GetValueOrDefault(point.Id, long.MaxValue)).ToList();
            Claim(opened.Count > 0 && opened.Max() < line!.StartedAt, $"I1: {wait.Id} started before the last opening that feeds it");
            ended = Math.Max(ended, line!.EndedAt);
        }

        Claim(PointsOf(place).All(point => !point.Lockable || Locked(point.Id)), $"locks: {place.Id} proved dead at a point that is not locked");
        _tests.Prove(proved, place, Sheet, ended, entry);
        _proved.Add(proved.TestPlace);
    }

    private void Clear(WorkCleared cleared, Witnessed entry)
    {
        InTurn(StepKind.Clear, _ => true);
        Claim(!Doubt, "I15: clear to work in doubt");
        foreach (var point in WayPoints())
        {
            Claim(_open.ContainsKey(point.Id) && (!point.Lockable || Locked(point.Id)), $"locks: clear to work with {point.Id} not open and locked");
        }

        Claim((cleared.RetestDue - entry.Moment.Boot).Nanoseconds <= Sheet!.RetestMinutes * 60L * Ticks.PerSecond, "I15: the next test is due too late");
        Claim(!(cleared.RetestDue.Nanoseconds > _due), "I15: the same proofs gain time");
        _cleared = true;
        _due = cleared.RetestDue.Nanoseconds;
    }

    /// <summary>I6: the step is the first of the way that is not satisfied.</summary>
    private void InTurn(StepKind kind, Func<Step, bool> fits)
    {
        var next = Steps.FirstOrDefault(step => !Satisfied(step));
        Claim(next is not null && next.Kind == kind && fits(next), $"I6: {kind} although the next step is {next?.Id}");
        Claim(_policy != ExposurePolicy.SecondPerson || !_securing.Alone || !next!.Exposes, $"I23: {next!.Id} exposes live parts and was done alone");
    }

    private bool Satisfied(Step step) => step.Kind switch
    {
        StepKind.Act or StepKind.Cover => _done.Contains(step.Id),
        StepKind.Open => _open.ContainsKey(step.Point!.Value),
        StepKind.Lock => Locked(step.Point!.Value),
        StepKind.Wait => _waits.TryGetValue(step.Wait!.Value, out var line) && line.Over,
        StepKind.Test => _proved.Contains(step.TestPlace!.Value),
        _ => _cleared,
    };

    private bool Locked(PointId point) => _open.TryGetValue(point, out var since) && _securing.IsLockedByAll(point, since);

    private void LoseEverything()
    {
        Claim(_waits.Count == 0 && _proved.Count == 0 && !_cleared, "I22: another way keeps waits, proofs or clear to work of the first");
        _tests.Abandon();
    }

    private IEnumerable<IsolationPoint> WayPoints() =>
        Sheet!.Points.Where(point => Steps.Any(step => step.Kind == StepKind.Open && step.Point == point.Id));

    private IEnumerable<IsolationPoint> PointsOf(TestPlace place) => WayPoints().Where(point => place.Points.IsEmpty || place.Points.Contains(point.Id)
        || Sheet!.Circuits.Any(circuit => place.Covers(circuit.Id) && point.Feeds(circuit.Id)));

    private IEnumerable<WaitRule> WaitsOf(TestPlace place) => Sheet!.Waits.Where(wait => place.Covers(wait.Circuit));

    private IEnumerable<TestPlace> PlacesInOrderOfSheet() =>
        Sheet?.TestPlaces.Where(place => Steps.Any(step => step.TestPlace == place.Id)) ?? [];

    private static void Claim([DoesNotReturnIf(false)] bool holds, string what) => Oracle.Claim(holds, what);

    private long Latest(TestPlace place) => WaitsOf(place).Select(wait => _waits.TryGetValue(wait.Id, out var line) && line.Over ? line.EndedAt : long.MaxValue)
        .DefaultIfEmpty(0).Max();

    private sealed record WaitLine(long StartedAt, int Seconds, long StartedCounted, Ticks StartedBoot, Ticks StartedRunning, int Gaps, bool Over, long EndedAt = 0);
}
