using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Journal.Heads;
using Companion.Journal.Proof;
using Companion.Tablet.Clocks;
using Companion.Tablet.Linking;
using Companion.TestKit;
using Companion.Uplink;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Together;

/// <summary>A real tablet and a real watch room, from pairing to a call that somebody takes (I10, I11, I23).</summary>
public sealed class TabletAndWatchroomTests : IAsyncLifetime
{
    private readonly string _store = Directory.CreateTempSubdirectory("companion-linked-tablet-").FullName;
    private readonly TabletClock _clock = new();
    private readonly CancellationTokenSource _end = new();
    private WatchroomRig _rig = null!;
    private JournalStore _journal = null!;
    private JobEngine _engine = null!;
    private FakeSpeaker _speaker = null!;
    private WatchroomLiaison _liaison = null!;
    private readonly TabletPosition _position = new(TimeProvider.System);
    private Task _loop = Task.CompletedTask;
    private Timer? _pulse;

    private Job Job => _engine.Snapshot.Job!;

    public async Task InitializeAsync()
    {
        _rig = await WatchroomRig.StartAsync();
        _journal = await JournalStore.OpenAsync(_store, new StoreOptions(_clock) { Kind = StoreKind.Real });
        var parts = WatchroomLiaison.Parts(_store, new NoSource(), () => throw new InvalidOperationException());
        Assert.Null(await Pairing.PairAsync(parts, _rig.App.Address, _rig.App.Fingerprint, _rig.Services.Codes.New(), _journal.TabletId, "van 12"));
        _speaker = new FakeSpeaker();
        _engine = new JobEngine(new EngineParts(_journal, _clock, new FakeEar(), _speaker, new FakeSheets(DemoSheets.Van()), new SeededChance(3)));
        _speaker.Inbox = _engine;
        _engine.Start();
        _loop = Task.Run(() => _engine.RunAsync(_end.Token));
        _pulse = new Timer(_ => _engine.Pulse(), null, 100, 100);
        _liaison = WatchroomLiaison.Start(_store, _journal, _engine, _clock, id => id == "crew-4" ? "Ines" : id, _position);
        Assert.True(_liaison.IsPaired);
    }

    public async Task DisposeAsync()
    {
        await _liaison.DisposeAsync();
        await _pulse!.DisposeAsync();
        await _end.CancelAsync();
        await _loop;
        await _journal.DisposeAsync();
        await _rig.DisposeAsync();
        Directory.Delete(_store, true);
    }

    [Fact]
    public async Task A_job_is_watched_its_journal_arrives_and_a_call_is_taken_at_the_other_end()
    {
        _engine.Post(new OpenJob("job-1", "crew-4", "Ines", null, false, default, default, DemoKit.Complete(), DemoTime.Start)
        {
            Place = "Quarry road, marker 7",
            Watch = DemoWatch.Even(900, 120, 60) with { Quiet = null },
            HasWatchroom = true,
        });
        await UntilAsync(() => Watch is { CheckIn: 1, Last.Technician: "Ines" }, "the job is watched");
        await UntilAsync(() => Job.Link?.Heard is not null, "the watch room's word is recorded");

        var before = Watch!.OverdueFrom;
        Say(Phrase.AllRight);
        await UntilAsync(() => Watch?.CheckIn > 1, "the check-in arrives");
        Assert.True(Watch!.OverdueFrom > before);

        Say(Phrase.HelpMe);
        await UntilAsync(() => Alert(AlertKind.Help) is not null, "the call arrives");
        Assert.Equal(("Ines", "Quarry road, marker 7"), (Alert(AlertKind.Help)!.Technician, Alert(AlertKind.Help)!.Place));
        Assert.True(await _rig.App.Keeper.TakeAsync(Alert(AlertKind.Help)!.Id, "Runa Holt", "I call the fire service."));
        await UntilAsync(() => _speaker.Words.Contains("Runa Holt answers your call.", StringComparison.Ordinal), "the technician hears who answers");

        Say(Phrase.StatusAllRight);
        await UntilAsync(() => Alert(AlertKind.Quiet) is null && Watch?.CheckIn == Job.CheckIn!.Sequence, "a wording that is agreed as nothing is plain");
        await UntilAsync(() => Held(Job.Id) >= Job.Sequence, "the journal arrives");
        AssertSame("job-1");
        AssertSame(Chains.Tablet);

        await UntilAsync(() => _rig.Audit().Any(line => line.StartsWith("tree.signed", StringComparison.Ordinal)), "the tablet's signed head is counter-signed");
        var proof = await _rig.Services.CounterSigner.ProofAsync(Watch!.Device, "job-1", _journal.Read("job-1").ToDictionary(entry => entry.Sequence, entry => entry.Hash));
        Assert.Equal("job-1", HeadStatement.Of(proof!.Head).Job);
    }

    [Fact]
    public async Task Where_the_tablet_is_reaches_the_board_and_lies_in_no_file_of_the_tablet_and_in_no_journal_of_the_watch_room()
    {
        _engine.Post(new OpenJob("job-1", "crew-4", "Ines", null, false, default, default, DemoKit.Complete(), DemoTime.Start)
        {
            Watch = DemoWatch.Even(900, 120, 60),
            HasWatchroom = true,
        });
        await UntilAsync(() => Watch is { CheckIn: 1, Last.Where: null }, "the job is watched");
        Assert.True(_position.Take(71.76215, -1.31887, 11.2, 0));
        await UntilAsync(() => Watch is { Last.Where: { Latitude: "71.76215", Longitude: "-1.31887", AccuracyMetres: 12 } }, "the position arrives");
        Say(Phrase.AllRight);
        await UntilAsync(() => Watch?.CheckIn > 1 && Held(Job.Id) >= Job.Sequence, "the journal arrives");

        // No time of an entry holds these digits: no second begins with 7.
        Assert.Equal((true, false), (LiesInStore("checkin.made"), LiesInStore("71.762")));
        Assert.DoesNotContain(_rig.Services.Receiver.Read(Watch!.Device, "job-1"), line => System.Text.Encoding.UTF8.GetString(line.Span).Contains("71.762", StringComparison.Ordinal));
        Assert.DoesNotContain(
            _rig.Services.Journal.Store.Read("watch"), entry => entry.Data.Contains("71.762", StringComparison.Ordinal) || entry.Sealed.Values.Any(text => text.Text.Contains("71.762", StringComparison.Ordinal)));
        _position.Forget();
        await UntilAsync(() => Watch is { Last.Where: null }, "it is forgotten");
    }

    // I11: the watch room counts from its own clock; what it held survives its restart, and the tablet finds it again by itself.
    [Fact]
    public async Task After_a_restart_of_the_watch_room_the_deadline_stands_and_the_tablet_comes_back()
    {
        _engine.Post(new OpenJob("job-1", "crew-4", "Ines", null, false, default, default, DemoKit.Complete(), DemoTime.Start)
        {
            Watch = DemoWatch.Even(900, 120, 60),
            HasWatchroom = true,
        });
        await UntilAsync(() => Watch is { CheckIn: 1 }, "the job is watched");
        var due = Watch!.Due;
        await _rig.RestartAsync(samePort: true);
        await UntilAsync(() => Watch is not null && Watch.LastBeat > Watch.CheckedInAt, "the tablet comes back");
        Assert.InRange((Watch!.Due!.Value - due!.Value).TotalSeconds, -1, 1);

        Say(Phrase.StatusAllRight);
        await UntilAsync(() => Alert(AlertKind.Quiet) is not null, "the quiet word arrives");
        Assert.DoesNotContain("quiet", _speaker.Words, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(_journal.Read("job-1"), entry => entry.Type == "checkin.made" && entry.Data.Contains("quiet", StringComparison.OrdinalIgnoreCase));
    }

    // I23: nobody else tells that the watch room's process is gone, so the tablet must.
    [Fact]
    public async Task A_watch_room_that_is_gone_is_told_aloud_on_the_tablet_and_is_found_again()
    {
        _engine.Post(new OpenJob("job-1", "crew-4", "Ines", null, false, default, default, DemoKit.Complete(), DemoTime.Start)
        {
            Watch = DemoWatch.Even(900, 120, 60),
            HasWatchroom = true,
        });
        await UntilAsync(() => Watch is { CheckIn: 1 }, "the job is watched");
        var port = _rig.App.Address.Port;
        await _rig.App.DisposeAsync();

        await WatchroomRig.UntilAsync(
            () => _speaker.Words.Contains("Nobody there hears you: call by telephone.", StringComparison.Ordinal), "it is told", WatchroomLiaison.Silence * 4);
        Assert.Contains(DeviceNotice.Watchroom, _engine.Snapshot.Lost.Keys);

        await _rig.StartAgainAsync(port);
        await UntilAsync(() => !_engine.Snapshot.Lost.ContainsKey(DeviceNotice.Watchroom), "it is found again");
    }

    private Watch? Watch => _rig.App.Keeper.View.Watches.FirstOrDefault(watch => watch.Job == "job-1");

    private Alert? Alert(AlertKind kind) => _rig.App.Keeper.View.Alerts.FirstOrDefault(alert => alert.Kind == kind);

    private long Held(string chain) => _rig.Services.Receiver.Chains(Watch!.Device).FirstOrDefault(held => held.Chain == chain)?.Sequence ?? 0;

    private void AssertSame(string chain)
    {
        var held = _rig.Services.Receiver.Read(Watch!.Device, chain).Select(line => Convert.ToHexString(line.Span)).ToList();
        Assert.NotEmpty(held);
        Assert.Equal(_journal.Read(chain).Take(held.Count).Select(entry => Convert.ToHexString(ExportLine.Of(entry).Span)), held);
    }

    private void Say(Phrase phrase) => _engine.Post(new Answer { Question = Job.Question!.Sequence, Began = _clock.Now(), By = By.Voice, Phrase = phrase });

    /// <summary>The open store's files are closed to other readers in this process.</summary>
    private bool LiesInStore(string text)
    {
        using var grep = System.Diagnostics.Process.Start("grep", ["-raqF", text, _store]);
        grep.WaitForExit();
        return grep.ExitCode == 0;
    }

    private static Task UntilAsync(Func<bool> done, string what) => WatchroomRig.UntilAsync(done, what);

    private sealed class NoSource : IOutboxSource
    {
        public IReadOnlyList<string> Chains() => [];

        public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence) => [];
    }
}
