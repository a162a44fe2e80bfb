using System.Globalization;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Screens.Showing;
using Companion.Tablet.Clocks;
using Companion.Uplink;

namespace Companion.Tablet.Linking;

/// <summary>
/// Between the loop and the uplink: tells the uplink when there is something to send, brings the watch room's answers to the loop, and says when
/// none comes any more. Callable from any thread.
/// </summary>
public sealed class WatchroomLiaison : IAsyncDisposable
{
    /// <summary>Without an answer for so long the watch room counts as lost.</summary>
    public static readonly TimeSpan Silence = TimeSpan.FromSeconds(30);

    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(1);
    private readonly JobEngine _engine;
    private readonly WatchroomUplink _uplink;
    private readonly TimeProvider _time;
    private readonly TabletPosition? _position;
    private readonly long _started;
    private readonly ITimer _look;
    private readonly Lock _one = new();
    private Told _told;
    private long _sequence;
    private bool? _lost;

    /// <summary>A liaison between an engine and an uplink; disposing ends the uplink.</summary>
    public WatchroomLiaison(JobEngine engine, WatchroomUplink uplink, TimeProvider time, TabletPosition? position = null)
    {
        (_engine, _uplink, _time, _position, _started) = (engine, uplink, time, position, time.GetTimestamp());
        engine.Changed += Changed;
        uplink.Answered += Answered;
        _look = time.CreateTimer(_ => Look(), null, LookEvery, LookEvery);
    }

    /// <summary>True when the tablet has a watch room.</summary>
    public bool IsPaired => _uplink.State.IsPaired;

    /// <summary>How the link stands, for the screen; null without a watch room.</summary>
    public LinkStanding? Standing => _uplink.State is { IsPaired: true } state
        ? new LinkStanding
        {
            Waiting = state.Waiting,
            Bytes = state.WaitingBytes,
            Since = state.WaitingSince,
            Trouble = state.OutboxTrouble,
            Refused = [.. state.Refused.Select(refused => new RefusedRecord(refused.Chain, refused.Reason))],
            SharesPosition = _position is not null,
            Where = _position?.Latest,
        }
        : null;

    /// <summary>The uplink of a tablet.</summary>
    /// <param name="store">The store's folder.</param>
    /// <param name="journal">The store.</param>
    /// <param name="engine">The loop.</param>
    /// <param name="clock">The tablet's clocks.</param>
    /// <param name="nameOf">The name of a crew id.</param>
    /// <param name="position">Where the tablet is; null where that is not shared.</param>
    public static WatchroomLiaison Start(
        string store, IJournal journal, JobEngine engine, IClock clock, Func<string, string> nameOf, TabletPosition? position = null)
    {
        Beat NextBeat() => JobBeat.Of(engine.Snapshot, clock.Now(), journal.Kind == StoreKind.Rehearsal, nameOf, position?.Latest);
        return new WatchroomLiaison(engine, WatchroomUplink.Start(Parts(store, new JournalOutbox(journal), NextBeat)), BootTime.Provider, position);
    }

    /// <summary>The parts of an uplink that keeps its files in a store.</summary>
    public static UplinkParts Parts(string store, IOutboxSource source, Func<Beat> beat) =>
        new(Path.Combine(store, "uplink"), source, beat, BootTime.Provider, Random.Shared.NextDouble);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _engine.Changed -= Changed;
        await _look.DisposeAsync().ConfigureAwait(false);
        await _uplink.DisposeAsync().ConfigureAwait(false);
    }

    private void Changed(Snapshot snapshot)
    {
        if (snapshot.Job is { } recorded && recorded.Sequence != _sequence)
        {
            _sequence = recorded.Sequence;
            _uplink.EntriesAdded();
        }

        var tells = Told.Of(snapshot.Job is { Ended: false } job ? job : null);
        if (tells != _told)
        {
            _told = tells;
            _uplink.Nudge();
        }
    }

    private void Answered(BeatAnswer answer)
    {
        _engine.Post(new LinkAnswered());
        foreach (var taken in answer.Taken)
        {
            var slash = taken.Id.LastIndexOf('/');
            if (slash > 0 && taken.Id[..slash] == _engine.Snapshot.Job?.Id
                && long.TryParse(taken.Id[(slash + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var call))
            {
                _engine.Post(new TakeCall(call, taken.By));
            }
        }

        Look();
    }

    private void Look()
    {
        if (!IsPaired)
        {
            return;
        }

        lock (_one)
        {
            var lost = _time.GetElapsedTime(_uplink.State.LastAnswer ?? _started) > Silence;
            if (lost == (_lost ?? false))
            {
                return;
            }

            _lost = lost;
            _engine.Post(new DeviceNotice(DeviceNotice.Watchroom, !lost, lost
                ? $"{_uplink.State.BeatTrouble ?? "The watch room does not answer."} Nobody there hears you: call by telephone."
                : "The watch room answers."));
        }
    }

    /// <summary>What the watch room should hear of at once when it changes.</summary>
    private readonly record struct Told(string? Job, WorkPhase? Phase, long? CheckIn, int Calls, long? Alarm)
    {
        public static Told Of(Job? job) => job is null
            ? default
            : new Told(job.Id, WorkPhases.Of(job), job.CheckIn?.Sequence, job.CheckIn?.Calls.Length ?? 0, job.Alarm?.At);
    }
}
