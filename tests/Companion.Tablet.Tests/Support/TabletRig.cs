using Companion.Review;
using Companion.Contracts;
using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sound;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Screens.Showing;
using Companion.Screens.Starting;
using Companion.Tablet.Linking;
using Companion.Tablet.Web;
using Companion.TestKit;
using Microsoft.AspNetCore.Builder;

namespace Companion.Tablet.Tests.Support;

/// <summary>The real screens over a real engine, with a journal in memory unless another is given, and a silent speaker.</summary>
internal sealed class TabletRig : IAsyncDisposable
{
    /// <summary>
    /// Here the browser, the app, its hung threads and the watchdog share one process's threads and two cores. The promised 2 s are
    /// held where the watchdog is alone with the app (WatchdogTests); what is broken takes for ever.
    /// </summary>
    public const double SecondsToNotice = 10;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);
    private readonly CancellationTokenSource _end = new();
    private readonly Timer _pulse;
    private readonly Task _loop;
    private volatile bool _hung;

    private TabletRig(StoreKind kind, IJournal? journal)
    {
        Journal = journal ?? new MemoryJournal(kind);
        Ear = new HangingEar(EarValve);
        Catalogue = new HangingCatalogue(Sheets, CatalogueValve);
        Engine = new JobEngine(new EngineParts(Journal, Clock, Ear, Speaker, Catalogue, new SeededChance(3)));
        Speaker.Inbox = Engine;
        Speaker.Asked = _ => SpeakerValve.Pass();
        Engine.Start();
        _loop = Task.Run(() => Engine.RunAsync(_end.Token));
        _pulse = new Timer(_ => Pulse(), null, TimeSpan.Zero, TimeSpan.FromMilliseconds(100));
        Opening = Choices(kind == StoreKind.Rehearsal);
    }

    public ShiftedClock Clock { get; } = new();

    public IJournal Journal { get; }

    public FakeSpeaker Speaker { get; } = new();

    public Valve SpeakerValve { get; } = new();

    public Valve EarValve { get; } = new();

    public Valve CatalogueValve { get; } = new();

    public HangingEar Ear { get; }

    public HangingCatalogue Catalogue { get; }

    /// <summary>How long a job without a view is not spoken of; an hour, so that tests without a page are left alone.</summary>
    public TimeSpan ViewPatience { get; init; }

    /// <summary>Where the documents of the sheets lie.</summary>
    public string? SheetFolder { get; init; }

    /// <summary>The records that may be looked at.</summary>
    public IRecordSource? Records { get; init; }

    /// <summary>How the link to the watch room stands.</summary>
    public LinkStanding? Link { get; set; }

    /// <summary>Takes where the tablet is; null does not share it.</summary>
    public TabletPosition? Position { get; init; }

    public FakeSheets Sheets { get; } = new(DemoSheets.Van());

    public JobEngine Engine { get; }

    public JobOpening Opening { get; private init; }

    public WebApplication Web { get; private set; } = null!;

    public string Token { get; } = AccessToken.New();

    public int Port => TabletWeb.BeatAddress(Web).Port;

    public Job Job => Engine.Snapshot.Job!;

    public IReadOnlyList<JournalEntry> Entries => Journal.Read(Job.Id);

    public static async Task<TabletRig> StartAsync(
        StoreKind kind = StoreKind.Real,
        IJournal? journal = null,
        TimeSpan? viewPatience = null,
        ArrivalList? arrival = null,
        string? sheetFolder = null,
        CheckInPolicy? watch = null,
        IRecordSource? records = null,
        TabletPosition? position = null,
        SoundPolicy? sound = null)
    {
        var rig = new TabletRig(kind, journal)
        {
            ViewPatience = viewPatience ?? TimeSpan.FromHours(1),
            Opening = Choices(kind == StoreKind.Rehearsal) with { Arrival = arrival, Watch = watch, Sound = sound },
            SheetFolder = sheetFolder,
            Records = records,
            Position = position,
        };
        await rig.ServeAsync(QuietPort.Next());
        return rig;
    }

    /// <summary>Serves the screens, on the same port as before when one is given.</summary>
    public async Task ServeAsync(int port)
    {
        var options = new TabletWebOptions { Port = port, Token = Token, ViewPatience = ViewPatience, SheetFolder = SheetFolder, Records = Records, Link = () => Link, Position = Position };
        Web = TabletWeb.Build(options, Engine, Clock, Catalogue, Opening);
        await Web.StartAsync();
    }

    public async Task StopServingAsync()
    {
        using var soon = new CancellationTokenSource(TimeSpan.FromMilliseconds(200));
        await Web.StopAsync(soon.Token);
        await Web.DisposeAsync();
    }

    /// <summary>From now on the loop makes no turn.</summary>
    public void Hang() => _hung = true;

    public void Recover() => _hung = false;

    public async Task OpenAsync(string? secondPerson = "della")
    {
        var open = Opener.Open(Opening, new StartChoice("maren", secondPerson ?? string.Empty, "standard"))!;
        await DoAsync(open, snapshot => snapshot.Job is { Ended: false, Question: not null });
    }

    /// <summary>Answers rightly, by holds, until a question of this kind is open.</summary>
    public async Task UntilAsync(NeedKind kind, int nth = 1)
    {
        while (Job.Question!.Need.Kind != kind || --nth > 0)
        {
            await RightlyAsync();
        }
    }

    public async Task RightlyAsync()
    {
        var question = Job.Question!;
        if (question.Need.Kind == NeedKind.WaitOver)
        {
            await PassAsync(5);
            return;
        }

        var (phrase, number) = RightAnswer.To(Job);
        await SayAsync(phrase == Phrase.AffirmCode ? Phrase.Affirm : phrase, number, snapshot => snapshot.Job?.Question != question);
    }

    /// <summary>Says something by a hold that began now.</summary>
    public Task SayAsync(Phrase phrase, string? number = null, Func<Snapshot, bool>? until = null, By by = By.Touch)
    {
        var before = Engine.Snapshot.Job?.Sequence;
        var answer = new Answer
        {
            Question = Job.Question!.Sequence,
            Began = Clock.Now(),
            By = by,
            Phrase = phrase,
            Number = number,
            Held = Ticks.OfSeconds(2),
        };
        return DoAsync(answer, until ?? (snapshot => snapshot.Job?.Sequence != before));
    }

    /// <summary>Seconds pass in strides that the loop sees.</summary>
    public async Task PassAsync(int seconds)
    {
        for (var left = seconds; left > 0; left -= 5)
        {
            await QuietAsync();
            Clock.Forward(Ticks.OfSeconds(Math.Min(5, left)));
            var now = Clock.Now().Boot;
            Engine.Pulse();
            await UntilTrueAsync(() => Engine.Snapshot.Moment.Boot >= now);
        }
    }

    /// <summary>An append to a real disk that is under way while the clock is put forward would look as if the disk hung.</summary>
    private async Task QuietAsync()
    {
        for (long before = -1; Journal is not MemoryJournal && before != Job.Sequence;)
        {
            before = Job.Sequence;
            await Task.Delay(100);
        }
    }

    public async Task DoAsync(Command command, Func<Snapshot, bool> until)
    {
        Engine.Post(command);
        await UntilTrueAsync(() => until(Engine.Snapshot));
    }

    public static async Task UntilTrueAsync(Func<bool> condition)
    {
        var since = TimeProvider.System.GetTimestamp();
        while (!condition())
        {
            if (TimeProvider.System.GetElapsedTime(since) > Patience)
            {
                throw new TimeoutException("The engine did not come to what was awaited.");
            }

            await Task.Delay(5);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _pulse.DisposeAsync();
        await StopServingAsync();
        await _end.CancelAsync();
        await _loop;
        _end.Dispose();
    }

    private static JobOpening Choices(bool rehearsal) => new(
        [new("maren", "Maren Oake"), new("tobin", "Tobin Rusk"), new("ifeoma", "Ifeoma Strand")],
        [new("della", "Della Frome"), new("tobin", "Tobin Rusk")],
        [new KitList("standard", "standard kit", DemoKit.Complete()), new KitList("spare", "spare kit", DemoKit.Complete())],
        rehearsal,
        ExposurePolicy.SecondPerson,
        RatingPolicy.AcFigure,
        () => $"job-{Guid.NewGuid():N}",
        () => DateTimeOffset.UnixEpoch);

    private void Pulse()
    {
        if (!_hung)
        {
            Engine.Pulse();
        }
    }
}
