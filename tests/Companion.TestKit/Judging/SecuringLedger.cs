using Companion.Domain;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.TestKit.Judging;

/// <summary>
/// Locks, people and the way back by the log alone: everybody who works has a lock of their own on every point; it comes off by its
/// holder or by the employer's procedure, and only when nobody relies on it; nothing is closed before tools and people are accounted
/// for, nor out of the reverse order.
/// </summary>
public sealed class SecuringLedger(Func<IReadOnlyList<Step>> steps)
{
    private readonly List<(PointId Point, string Number, string Holder, long At)> _locks = [];
    private readonly HashSet<string> _present = [];
    private readonly List<string> _workers = [];
    private readonly HashSet<PointId> _closed = [];
    private readonly Dictionary<PointId, long> _opened = [];
    private readonly HashSet<StepId> _covers = [];
    private string _technician = string.Empty;
    private int? _toolsOut;
    private bool _toolsBack;
    private bool _away;

    /// <summary>True once the vehicle is being put back.</summary>
    public bool PuttingBack { get; private set; }

    /// <summary>True once a point was opened.</summary>
    public bool Begun { get; private set; }

    /// <summary>True while nobody but the technician is there.</summary>
    public bool Alone => _present.Count == 0;

    /// <summary>Takes one entry.</summary>
    public void Take(Witnessed entry)
    {
        switch (entry.Event)
        {
            case JobOpened opened:
                _technician = opened.Technician;
                _workers.Add(opened.Technician);
                _present.UnionWith(opened.SecondPerson is null ? [] : ["named at the start"]);
                break;
            case PointOpened opened:
                Begun = true;
                _opened[opened.Point] = entry.Sequence;
                break;
            case StepConfirmed confirmed:
                Confirm(confirmed);
                break;
            case DisturbanceReported reported:
                _covers.Clear();
                _away = false;
                if (reported.What == Disturbance.Unwatched)
                {
                    _closed.Clear();
                }

                break;
            case WorkStopped or PhaseEntered { Which: JobPhase.Break } or ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume }:
                _away = false;
                break;
            case PersonChanged changed:
                Change(changed);
                break;
            case ToolsCounted counted:
                Oracle.Claim(counted.Back == PuttingBack, "tools: tools came back before the work was done, or went out after it");
                Oracle.Claim(!counted.Back || counted.Count == _toolsOut, $"tools: {_toolsOut} tools went out and {counted.Count} came back");
                _toolsOut ??= counted.Count;
                _toolsBack = counted.Back;
                break;
            case PhaseEntered { Which: JobPhase.PuttingBack }:
                PuttingBack = true;
                break;
            case PointUnlocked unlocked:
                Remove(unlocked);
                break;
            case PointClosed closed:
                Close(closed.Point);
                break;
            case JobHandedOver over:
                HandOver(over);
                break;
        }
    }

    /// <summary>Before the lock counts: may it be fitted?</summary>
    public void Withhold(PointLocked locked)
    {
        Oracle.Claim(!PuttingBack, "locks: a lock fitted while putting back");
        Oracle.Claim(_workers.Contains(locked.Holder), $"locks: a lock of {locked.Holder}, who does not work here");
        Oracle.Claim(!_locks.Any(one => one.Number == locked.Lock && (one.Point != locked.Point || one.Holder != locked.Holder)), "locks: one lock in two places");
    }

    /// <summary>The lock counts.</summary>
    public void Fit(PointLocked locked, long sequence)
    {
        _locks.RemoveAll(one => one.Point == locked.Point && one.Holder == locked.Holder);
        _locks.Add((locked.Point, locked.Lock, locked.Holder, sequence));
    }

    /// <summary>True when everybody who works fitted a lock since the point was opened.</summary>
    public bool IsLockedByAll(PointId point, long since) =>
        _workers.All(worker => _locks.Any(one => one.Point == point && one.Holder == worker && one.At > since));

    private void Confirm(StepConfirmed confirmed)
    {
        switch (confirmed.Question)
        {
            case NeedKind.CoverLiveSide:
                _covers.Add(new StepId(confirmed.Step));
                break;
            case NeedKind.EverybodyAway:
                Oracle.Claim(PuttingBack && _toolsBack, "tools: everybody away before the tools were counted in");
                _away = true;
                break;
            case NeedKind.Uncover:
                Oracle.Claim(_away, "locks: uncovered before everybody was away");
                _covers.Remove(new StepId(confirmed.Step));
                break;
        }
    }

    private void Change(PersonChanged changed)
    {
        switch (changed.Change)
        {
            case PersonChange.Left:
                Oracle.Claim(changed.Person != _technician, "locks: the technician left an open job");
                _workers.Remove(changed.Person);
                Forget(changed.Person);
                break;
            case PersonChange.TookOver:
                _workers.Remove(_technician);
                _workers.Remove(changed.Person);
                _workers.Add(changed.Person);
                Forget(changed.Person);
                _technician = changed.Person;
                break;
            default:
                Forget(changed.Person);
                _present.Add(changed.Person);
                if (changed.Change == PersonChange.Joined)
                {
                    _workers.Add(changed.Person);
                }

                break;
        }
    }

    /// <summary>A number that nobody had said may be that of the person named at the start.</summary>
    private void Forget(string person)
    {
        if (!_present.Remove(person))
        {
            _present.Remove("named at the start");
        }
    }

    private void Remove(PointUnlocked unlocked)
    {
        var fitted = _locks.FindIndex(one => one.Point == unlocked.Point && one.Number == unlocked.Lock && one.Holder == unlocked.Holder);
        Oracle.Claim(fitted >= 0, "locks: a lock came off that is not fitted there");
        Oracle.Claim((unlocked.Remover == unlocked.Holder) != unlocked.Procedure, $"locks: {unlocked.Remover} took off the lock of {unlocked.Holder}");
        Oracle.Claim(PuttingBack ? _away : !_workers.Contains(unlocked.Holder), "locks: a lock came off on which somebody relies");
        _locks.RemoveAt(fitted);
        Oracle.Claim(PuttingBack || IsLockedByAll(unlocked.Point, 0), "locks: a point without the lock of somebody who works");
    }

    private void Close(PointId point)
    {
        Oracle.Claim(PuttingBack && _away, $"locks: {point} closed before everybody was away");
        Oracle.Claim(_locks.All(one => one.Point != point), $"locks: {point} closed under a lock");
        var order = steps().Where(step => step.Kind is StepKind.Open or StepKind.Cover).ToList();
        var at = order.FindIndex(step => step.Point == point && step.Kind == StepKind.Open);
        Oracle.Claim(
            order.Skip(at + 1).All(later => later.Kind == StepKind.Cover ? !_covers.Contains(later.Id) : _closed.Contains(later.Point!.Value)),
            $"I6: {point} closed out of the reverse order");
        _closed.Add(point);
    }

    private void HandOver(JobHandedOver over)
    {
        Oracle.Claim((over.Locks == LocksAtHandOver.None) == (_locks.Count == 0), "locks: the hand-over is wrong about the locks");
        var putBack = over.Reason.StartsWith("Put back", StringComparison.Ordinal);
        Oracle.Claim(!putBack || (PuttingBack && _locks.Count == 0 && _opened.Keys.All(_closed.Contains)), "locks: put back with something open or locked");
    }
}
