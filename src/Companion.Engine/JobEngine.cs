using System.Threading.Channels;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>
/// The one loop. Input, moment, decision, warnings at once, append, await durable, fold, speak. Everything that happens to a job
/// passes through <see cref="TurnAsync"/>, one input at a time.
/// </summary>
public sealed class JobEngine : IInbox
{
    /// <summary>Inputs that may wait. More than this means that the loop hangs; the watchdog sees it.</summary>
    public const int MostWaiting = 4096;

    private readonly EngineParts _parts;
    private readonly Channel<Input> _inbox = Channel.CreateBounded<Input>(
        new BoundedChannelOptions(MostWaiting) { SingleReader = true, FullMode = BoundedChannelFullMode.DropWrite });

    private readonly Recorder _recorder;
    private readonly Voice _voice;
    private readonly Notices _notices;
    private int _pulseWaiting;
    private Moment _turnsAgain;
    private Ticks _counted;
    private Ticks _full;
    private volatile Snapshot _snapshot;

    /// <summary>An engine over its ports; <see cref="Start"/> reads the store.</summary>
    public JobEngine(EngineParts parts)
    {
        _parts = parts;
        _voice = new Voice(parts.Speaker, parts.Clock);
        _notices = new Notices(_voice, parts.Clock);
        _recorder = new Recorder(parts.Journal, _inbox.Reader, WarnAtOnce, Doubt);
        _snapshot = new Snapshot(null, parts.Clock.Now(), true, null, null, EmptyDevices);
    }

    /// <summary>Raised on the loop's thread after every turn; handlers return at once.</summary>
    public event Action<Snapshot>? Changed;

    /// <summary>Raised on the loop's thread after every decision, before any of it is durable: a simulator judges it.</summary>
    public event Action<Job?, Command, Decision, Moment>? Decided;

    /// <summary>The present state.</summary>
    public Snapshot Snapshot => _snapshot;

    private static System.Collections.Immutable.ImmutableDictionary<string, string> EmptyDevices =>
        System.Collections.Immutable.ImmutableDictionary<string, string>.Empty;

    /// <summary>Rebuilds the state from the journal; a job that was open goes on, after a gap.</summary>
    public void Start()
    {
        var job = Rebuild.OpenJob(_parts.Journal);
        Publish(_snapshot with { Job = job });
        if (job is not null)
        {
            (_counted, _full) = (job.Clock.Counted, job.Clock.Full);
            _recorder.TakeFirst(new CommandInput(new Restarted(), _parts.Clock.Now()));
        }

        if (Notices.OfDamage(_parts.Journal) is { } damage)
        {
            Post(damage);
        }

        _parts.Ear.Listen(Understanding.Listening(job));
    }

    /// <summary>Brings a command. Callable from any thread.</summary>
    public void Post(Command command) => Enqueue(new CommandInput(command, _parts.Clock.Now()));

    /// <inheritdoc/>
    public void Post(Hearing hearing) => Enqueue(new HearingInput(hearing, _parts.Clock.Now()));

    /// <inheritdoc/>
    public void Post(PromptReceipt receipt) => Enqueue(new ReceiptInput(receipt, _parts.Clock.Now()));

    /// <inheritdoc/>
    public void Post(DeviceNotice notice) => Enqueue(new NoticeInput(notice, _parts.Clock.Now()));

    /// <summary>Time passes: called several times a second. A pulse that the loop has not taken yet is not doubled.</summary>
    public void Pulse()
    {
        if (Interlocked.Exchange(ref _pulseWaiting, 1) == 0)
        {
            Post(new Tick());
        }
    }

    /// <summary>Runs until cancelled.</summary>
    public async Task RunAsync(CancellationToken cancellation)
    {
        try
        {
            while (await _inbox.Reader.WaitToReadAsync(cancellation).ConfigureAwait(false))
            {
                await DrainAsync().ConfigureAwait(false);
            }
        }
        catch (OperationCanceledException)
        {
            // Stopping between two turns loses nothing: what was accepted is durable.
        }
    }

    /// <summary>Handles everything that waits, then returns: how a rehearsal or the simulator drives the loop.</summary>
    public async Task DrainAsync()
    {
        while (_recorder.TryTakeBacklog(out var held) || _inbox.Reader.TryRead(out held))
        {
            await TurnAsync(held).ConfigureAwait(false);
        }
    }

    private void Enqueue(Input input) => _inbox.Writer.TryWrite(input);

    private async Task TurnAsync(Input input)
    {
        if (input is CommandInput { Command: Tick })
        {
            Interlocked.Exchange(ref _pulseWaiting, 0);
        }

        var moment = _parts.Clock.Now();
        _turnsAgain = Understanding.StoodStill(_snapshot.Moment, moment) ? moment : _turnsAgain;
        var (command, heard) = CommandOf(input);
        if (command is null)
        {
            Publish(_snapshot with { Moment = moment, LastHeard = heard ?? _snapshot.LastHeard });
            return;
        }

        if (!_snapshot.Recording)
        {
            RefuseUnrecorded(input, command, moment);
            return;
        }

        var job = _snapshot.Job;
        command = Understanding.InTime(command, input.Arrived, moment, _turnsAgain);
        var decision = Decide.On(job, command, moment, _parts.Chance.Draw());
        Decided?.Invoke(job, command, decision, moment);
        var chain = command is OpenJob open && job is not { Ended: false } ? open.JobId : job?.Id ?? string.Empty;
        _voice.WarnFirst(job, chain, decision.Events, moment);
        var recorded = await _recorder.RecordAsync(chain, decision.Events, moment).ConfigureAwait(false);
        if (recorded is null)
        {
            return;
        }

        Conclude(job, recorded, decision, heard, moment);
        TellLosses(command, decision);
        foreach (var name in _notices.SettledBy(command, decision, _snapshot.Job))
        {
            Post(new DeviceNotice(name, true, "Answered."));
        }
    }

    /// <summary>The durable entries become the state, and only then are they spoken of (I7, I13).</summary>
    private void Conclude(
        Job? before, IReadOnlyList<Companion.Contracts.JournalEntry> recorded, Decision decision, HeardLine? heard, Moment moment)
    {
        if (decision.Events.OfType<QuestionAsked>().Any())
        {
            _voice.DropStale();
        }

        var job = before;
        foreach (var entry in recorded)
        {
            job = Rebuild.Next(job, entry);
            _voice.Speak(job!, Codec.EventCodec.Read(entry)!, moment);
        }

        if (decision.Events.Any(happened => happened is AlertRaised { Kind: AlarmKind.Help }) && _snapshot.Lost.ContainsKey(DeviceNotice.Watchroom))
        {
            _voice.Refuse("The watch room does not hear you. Call the emergency number by telephone, or send somebody.");
        }

        if (decision is Refused { Events.Length: 0 } refused)
        {
            _voice.Refuse(refused.Reason);
        }

        SpeakOfTime(job, moment);
        var line = heard is null ? _snapshot.LastHeard : Outcome(heard, decision);
        var changed = recorded.Count > 0;
        Publish(_snapshot with { Job = job, Moment = moment, LastHeard = line });
        if (changed)
        {
            _parts.Ear.Listen(Understanding.Listening(job));
        }
    }

    /// <summary>A device that was lost before the job was opened is lost in the job too, and its record says so.</summary>
    private void TellLosses(Command command, Decision decision)
    {
        if (command is OpenJob && decision is Accepted)
        {
            foreach (var (device, detail) in _snapshot.Lost)
            {
                Post(_notices.Again(device, detail));
            }
        }
    }

    private void SpeakOfTime(Job? job, Moment moment)
    {
        if (job is null)
        {
            _voice.RepeatUnplayed(moment);
            return;
        }

        if (job.Ended)
        {
            return;
        }

        var counted = job.Clock.CountedAt(moment);
        _voice.SpeakTimeCalls(job, _counted, counted);
        _voice.RepeatAlarm(job, moment);
        _voice.RepeatUnplayed(moment);
        _voice.AskAgain(job, moment);
        var full = job.Clock.FullAt(moment);
        _voice.AskForCheckIn(job, _full, full);
        (_counted, _full) = (counted, full);
    }

    private (Command? Command, HeardLine? Heard) CommandOf(Input input)
    {
        switch (input)
        {
            case CommandInput { Command: Answer answer }:
                return (Understanding.WithSheet(answer, _snapshot.Job, _parts.Sheets), new HeardLine(Pressed(answer), string.Empty, true));
            case CommandInput command:
                return (command.Command, null);
            case HearingInput hearing:
                return Heard(hearing.Hearing);
            case ReceiptInput receipt:
                return (_voice.Ended(receipt.Receipt, receipt.Arrived), null);
            case NoticeInput notice:
                return (Noticed(notice.Notice), null);
            default:
                return (null, null);
        }
    }

    private (Command? Command, HeardLine? Heard) Heard(Hearing hearing)
    {
        var outcome = Understanding.Weigh(hearing);
        if (outcome == HearingOutcome.Accepted && Understanding.Of(hearing) is { } answer)
        {
            return (Understanding.WithSheet(answer, _snapshot.Job, _parts.Sheets), new HeardLine(hearing.Words, string.Empty, true));
        }

        var reason = outcome switch
        {
            HearingOutcome.TooNoisy => "Too noisy to confirm by voice. Use the button.",
            HearingOutcome.Unsure => "Not understood. Repeat it, or press the button.",
            _ => "Not for the Companion.",
        };
        if (outcome != HearingOutcome.NotForUs)
        {
            _voice.Refuse(reason);
        }

        return (new Unheard(hearing.Words, reason, hearing.Confidence), new HeardLine(hearing.Words, reason, false));
    }

    private DeviceChanged Noticed(DeviceNotice notice)
    {
        var lost = notice.Present ? _snapshot.Lost.Remove(notice.Device) : _snapshot.Lost.SetItem(notice.Device, notice.Detail);
        Publish(_snapshot with { Lost = lost });
        _notices.Tell(notice);
        return new DeviceChanged(notice.Device, notice.Present, notice.Detail);
    }

    /// <summary>Called for every input that arrives while an append is on its way: a warning must not wait for the disk (I16).</summary>
    private bool WarnAtOnce(Input input)
    {
        if (input is CommandInput { Command: Tick })
        {
            // The next pulse must come through: by it a hanging append is noticed.
            Interlocked.Exchange(ref _pulseWaiting, 0);
        }

        var phrase = input switch
        {
            HearingInput { Hearing.Outcome: HearingOutcome.Accepted } hearing => Understanding.Of(hearing.Hearing)?.Phrase,
            CommandInput { Command: Answer answer } => answer.Phrase,
            _ => null,
        };
        return phrase is { } losing && LosingWords.IsLosing(losing) && _voice.Warn(LosingWords.Of(losing));
    }

    /// <summary>The store failed or does not answer: nothing permissive is accepted from here, proofs are void, warnings still sound.</summary>
    private void Doubt(string trouble)
    {
        var job = _snapshot.Job;
        Publish(_snapshot with
        {
            Recording = false,
            Trouble = trouble,
            Job = job is null ? null : job with { Proofs = job.Proofs.Clear(), Clearance = null, Test = null },
        });
        _voice.Warn($"Not recording. {trouble} Proofs are void. Treat as live.");
    }

    private void RefuseUnrecorded(Input input, Command command, Moment moment)
    {
        WarnAtOnce(input);
        if (command is Answer answer && !LosingWords.IsLosing(answer.Phrase))
        {
            _voice.Refuse("Not recording. Nothing is accepted. Treat as live.");
        }

        if (_snapshot.Job is { } job)
        {
            _voice.RepeatAlarm(job, moment);
        }

        _voice.RepeatUnplayed(moment);
        Publish(_snapshot with { Moment = moment });
    }

    private static HeardLine Outcome(HeardLine heard, Decision decision) => decision is Refused refused
        ? heard with { Outcome = refused.Reason, Accepted = false }
        : heard with { Outcome = decision.Events.OfType<CodeAsked>().Any() ? "To be confirmed." : "Taken." };

    private static string Pressed(Answer answer) => answer.Number is null
        ? Companion.Domain.Speaking.PhraseBook.Words(answer.Phrase)
        : $"{Companion.Domain.Speaking.PhraseBook.Words(answer.Phrase)}: {answer.Number}";

    private void Publish(Snapshot snapshot)
    {
        _snapshot = snapshot;
        Changed?.Invoke(snapshot);
    }
}
