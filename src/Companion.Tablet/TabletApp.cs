using Companion.Contracts;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Tablet.Clocks;
using Companion.Tablet.Linking;
using Companion.Voice;
using Companion.Voice.Audio;
using Companion.Voice.Keeping;

namespace Companion.Tablet;

/// <summary>The parts of the running tablet, put together: store, voice, engine, pulse, link. Disposing stops the link, the recording of sound, the pulse, then the voice, then the store.</summary>
public sealed class TabletApp : IAsyncDisposable
{
    private static readonly TimeSpan PulseEvery = TimeSpan.FromMilliseconds(100);

    private readonly JournalStore _journal;
    private readonly VoiceKit _voice;
    private readonly SoundRecording _sound;
    private readonly CancellationTokenSource _end = new();
    private readonly Task _loop;
    private readonly Timer _pulse;

    private TabletApp(JournalStore journal, VoiceKit voice, SoundRecording sound, JobEngine engine, TabletClock clock, FolderCatalogue sheets, WatchroomLiaison watchroom)
    {
        Watchroom = watchroom;
        _journal = journal;
        _voice = voice;
        _sound = sound;
        Engine = engine;
        Clock = clock;
        Sheets = sheets;
        _loop = Task.Run(() => engine.RunAsync(_end.Token));
        _pulse = new Timer(_ => engine.Pulse(), null, PulseEvery, PulseEvery);
    }

    /// <summary>The engine.</summary>
    public JobEngine Engine { get; }

    /// <summary>The tablet's clocks.</summary>
    public IClock Clock { get; }

    /// <summary>The link to the watch room.</summary>
    public WatchroomLiaison Watchroom { get; }

    /// <summary>The sheets on offer.</summary>
    public FolderCatalogue Sheets { get; }

    /// <summary>The latest wall-clock time ever journalled on this tablet.</summary>
    public DateTimeOffset LatestWall => Rebuild.LatestWall(_journal);

    /// <summary>What opening the store found.</summary>
    public IReadOnlyList<StoreFinding> Findings => _journal.Findings;

    /// <summary>Opens the store, verifies it, starts voice and engine. A live microphone means speed 1, whatever the store.</summary>
    /// <exception cref="StoreFaultException">The store is of the other kind, open elsewhere, or cannot be used.</exception>
    public static async Task<TabletApp> OpenAsync(string store, string assets, string sheetFolder, Func<string, string> nameOf, TabletPosition? position = null)
    {
        var clock = new TabletClock();
        var journal = await JournalStore.OpenAsync(store, new StoreOptions(clock) { Kind = StoreKind.Real }).ConfigureAwait(false);
        var sheets = new FolderCatalogue(sheetFolder);
        var inbox = new InboxRelay();
        var keeper = new SoundKeeper(new PartFiles(store), clock, inbox);
        var options = new VoiceOptions(assets, new PulseMicrophone(), new PulseLoudspeaker(), new RealPace(TimeProvider.System)) { Tap = keeper };
        var voice = VoiceKit.Start(options, clock, inbox);
        var engine = new JobEngine(new EngineParts(journal, clock, voice.Ear, voice.Speaker, sheets, new SecretChance()));
        inbox.Attach(engine);
        engine.Start();
        var sound = SoundRecording.Start(keeper, engine, journal);
        var watchroom = WatchroomLiaison.Start(store, journal, engine, clock, nameOf, position);
        return new TabletApp(journal, voice, sound, engine, clock, sheets, watchroom);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await Watchroom.DisposeAsync().ConfigureAwait(false);
        _sound.Dispose();
        await _pulse.DisposeAsync().ConfigureAwait(false);
        await _end.CancelAsync().ConfigureAwait(false);
        await _loop.ConfigureAwait(false);
        _voice.Dispose();
        await _journal.DisposeAsync().ConfigureAwait(false);
        _end.Dispose();
    }
}
