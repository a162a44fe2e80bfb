using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Codec;
using Companion.Engine.Ports;
using Companion.Simulation.Checking;
using Companion.Simulation.Worlds;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Watched;

/// <summary>
/// Watches a tablet that is watched over: its deadline by the record alone (I10), by the true time since the person's last word, and what it tells of
/// both to the watch room (I11). It knows the true time, which no clock of the tablet does.
/// </summary>
internal sealed class TabletWitness(Func<Ticks> now) : ITabletWitness
{
    private static readonly Ticks Rounding = Ticks.OfMilliseconds(2);
    private const long UnknownAge = 24L * 3600 * 1000;

    private readonly Memory _memory = new();
    private readonly List<Witnessed> _fresh = [];
    private readonly Dictionary<string, Story> _stories = [];
    private Pending? _pending;
    private string _job = string.Empty;
    private int _boots = 1;
    private Ticks _booted;

    /// <summary>Called with every entry of a job, once it is durable.</summary>
    public required Action<JournalEntry> Recorded { get; init; }

    /// <summary>What was acknowledged.</summary>
    public Memory Memory => _memory;

    /// <summary>The jobs of this tablet by id, with what must reach the watch room of each.</summary>
    public IReadOnlyDictionary<string, Story> Stories => _stories;

    /// <summary>The operating system was started anew.</summary>
    public void Rebooted() => (_boots, _booted) = (_boots + 1, now());

    /// <summary>The store was put back to what it held when so many entries had been acknowledged; no job was open then.</summary>
    public void PutBackTo(int acknowledged)
    {
        _memory.GoBackTo(acknowledged);
        var jobs = _memory.Acknowledged.Select(entry => entry.Chain).ToHashSet();
        foreach (var gone in _stories.Keys.Where(job => !jobs.Contains(job)).ToList())
        {
            _stories.Remove(gone);
        }

        _job = _memory.Acknowledged is [.., var last] ? last.Chain : string.Empty;
    }

    /// <inheritdoc/>
    public void Decided(Job? before, Command command, Decision decision, Moment moment) => _pending = new Pending(before, command, decision, moment);

    /// <inheritdoc/>
    public void Appending(IReadOnlyList<EntryDraft> drafts) => _memory.Appending(drafts);

    /// <inheritdoc/>
    public void Durable(IReadOnlyList<JournalEntry> entries)
    {
        _memory.Durable(entries);
        var (command, moment) = (_pending!.Command, _pending.Moment);
        foreach (var entry in entries)
        {
            var happened = EventCodec.Read(entry) ?? throw new InvariantBrokenException($"I13: {entry.Type} is not read back");
            Recorded(entry);
            _fresh.Add(new Witnessed(entry.Sequence, happened, moment, now()));
            if (happened is JobOpened)
            {
                _job = entry.Chain;
                _stories.Add(_job, new Story());
            }

            _stories[_job].Take(entry.Sequence, happened, command, now(), _boots);
        }
    }

    /// <inheritdoc/>
    public void Settled(Snapshot snapshot)
    {
        Oracle.Claim(snapshot.Recording, $"I12: nothing is recorded on a disk that nothing ails: {snapshot.Trouble}");
        if (_pending is not { } pending)
        {
            return;
        }

        _pending = null;
        if (_stories.TryGetValue(_job, out var story))
        {
            story.Ledger.Take(new Turned(pending.Command, pending.Decision, pending.Moment, 0, pending.Before, snapshot.Job), _fresh);
            story.Ended |= snapshot.Job is { Ended: true };
            InTrueTime(story, pending.Command, snapshot.Job);
        }

        _fresh.Clear();
    }

    /// <inheritdoc/>
    public void Said(Prompt prompt) => Oracle.Claim(!prompt.Text.Contains("quiet", StringComparison.OrdinalIgnoreCase), $"I10: the quiet word is told: {prompt.Text}");

    /// <inheritdoc/>
    public void CannotOpen(string words) => throw new InvariantBrokenException($"I12: the store cannot be opened although nothing is wrong with its disk: {words}");

    /// <inheritdoc/>
    public void Reopened(IJournal journal)
    {
        _pending = null;
        _fresh.Clear();
        Oracle.Claim(_memory.Compare(journal).Count == 0, "I12: entries that nobody decided");
    }

    /// <summary>The tablet says this of itself.</summary>
    public void Tells(Beat beat)
    {
        if (beat.Job is not { } job)
        {
            Oracle.Claim(!_stories.TryGetValue(_job, out var open) || open.Ended, "I11: a beat leaves the open job out");
            return;
        }

        var story = _stories[job];
        Oracle.Claim(job == _job && !story.Ended, "I11: a beat tells of a job that is not open");
        var stated = beat.CheckIn ?? throw new InvariantBrokenException("I11: a beat tells of no check-in");
        Oracle.Claim(stated.Sequence == story.Last.Sequence, $"I11: a beat tells of check-in {stated.Sequence}, the last was {story.Last.Sequence}");
        var trueAge = (now() - story.Last.At).Nanoseconds / 1_000_000;
        Oracle.Claim(
            story.Last.Boot == _boots ? Math.Abs(stated.AgeMilliseconds - trueAge) <= Rounding.Nanoseconds / 1_000_000 : stated.AgeMilliseconds >= UnknownAge,
            $"I11: a beat gives its check-in an age of {stated.AgeMilliseconds} ms, which is {trueAge} ms");
        Oracle.Claim(
            (stated.IntervalSeconds, stated.MarginSeconds) == (story.Ledger.IntervalSeconds, story.Ledger.MarginSeconds), "I11: a beat tells other times than the record");
        var unanswered = beat.Alerts.Any(call => call.Kind == CallKind.Unanswered);
        Oracle.Claim(unanswered == (story.Ledger.Raised && story.Last.Boot == _boots), "I10: the tablet's own alert is not told as the record has it");
        foreach (var call in story.Calls.Where(call => !call.Taken))
        {
            Oracle.Claim(beat.Alerts.Any(one => one.Id == $"{job}/{call.Sequence}" && one.Kind == call.Kind), $"I11: a call is left out of a beat: {call.Kind}");
        }
    }

    /// <summary>Whatever the tablet's clocks made of sleep, restarts and settings: nobody's silence goes unnoticed (I10). After a reboot there is a margin from its start.</summary>
    private void InTrueTime(Story story, Command command, Job? job)
    {
        if (job is not { Ended: false } || command is Answer)
        {
            return;
        }

        var deadline = story.Last.At + Ticks.OfSeconds(story.Ledger.IntervalSeconds + story.Ledger.MarginSeconds);
        var afterBoot = _booted + Ticks.OfSeconds(story.Ledger.MarginSeconds);
        var latest = story.Last.Boot == _boots || deadline > afterBoot ? deadline : afterBoot;
        Oracle.Claim(story.Ledger.Raised || now() < latest, $"I10: nobody was heard for {(now() - story.Last.At).Seconds} s, and the tablet raises nothing");
    }

    /// <summary>One job as the witness knows it.</summary>
    internal sealed class Story
    {
        private readonly List<OwedCall> _calls = [];

        /// <summary>The deadline by the record.</summary>
        public CheckInLedger Ledger { get; } = new();

        /// <summary>The last check-in: its sequence, its true time, and the running period it was made in.</summary>
        public (long Sequence, Ticks At, int Boot) Last { get; private set; }

        /// <summary>True once the job is over.</summary>
        public bool Ended { get; set; }

        /// <summary>What was called for.</summary>
        public IReadOnlyList<OwedCall> Calls => _calls;

        public void Take(long sequence, JobEvent happened, Command command, Ticks at, int boot)
        {
            switch (happened)
            {
                case JobOpened:
                    Last = (sequence, at, boot);
                    break;
                case CheckInMade:
                    Last = (sequence, at, boot);
                    if (command is Answer { Phrase: Phrase.StatusAllRight })
                    {
                        _calls.Add(new OwedCall(sequence, CallKind.Quiet));
                    }

                    break;
                case AlertRaised { Kind: AlarmKind.Help } or StandOffBegun:
                    _calls.Add(new OwedCall(sequence, CallKind.Help));
                    break;
                case CallTaken taken:
                    _calls.Single(call => call.Sequence == taken.Call).Taken = true;
                    break;
            }
        }
    }

    /// <summary>A call that must reach somebody.</summary>
    internal sealed record OwedCall(long Sequence, CallKind Kind)
    {
        public bool Taken { get; set; }
    }

    private sealed record Pending(Job? Before, Command Command, Decision Decision, Moment Moment);
}
