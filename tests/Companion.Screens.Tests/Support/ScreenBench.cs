using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Screens.Answering;
using Companion.Screens.Starting;
using Companion.TestKit;

namespace Companion.Screens.Tests.Support;

/// <summary>A job screen over a job on the bench, with a clock that a test moves and a list of what was posted.</summary>
internal sealed class ScreenBench
{
    public ScreenBench(JobBench? bench = null)
    {
        Bench = bench ?? new JobBench();
        Screen = new JobScreen(new ScreenParts(
            () => Snapshot, Posted.Add, new BenchClock(Bench), new FakeSheets(Bench.Sheet), Opening, new StaleGuard()));
    }

    public static JobOpening Opening { get; } = new(
        [new("maren", "Maren Oake"), new("tobin", "Tobin Rusk")],
        [new("della", "Della Frome"), new("tobin", "Tobin Rusk")],
        [new KitList("standard", "standard kit", DemoKit.Complete())],
        false,
        ExposurePolicy.SecondPerson,
        RatingPolicy.AcFigure,
        () => "job-new",
        () => DemoTime.Start);

    public JobBench Bench { get; }

    public JobScreen Screen { get; }

    public List<Command> Posted { get; } = [];

    public bool Recording { get; set; } = true;

    public ImmutableDictionary<string, string> Lost { get; set; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>How long ago the loop last turned.</summary>
    public Ticks Silence { get; set; }

    /// <summary>The engine's last turn, as a page that keeps up knows it.</summary>
    public Ticks Beat => Snapshot.Moment.Boot;

    public Job Job => Bench.Job!;

    public Answer LastAnswer => (Answer)Posted[^1];

    public Snapshot Snapshot => new(
        Bench.Job,
        Bench.Time.Now with { Boot = Bench.Time.Now.Boot - Silence },
        Recording,
        Recording ? null : "The disk is full.",
        null,
        Lost);

    /// <summary>A job that stands at a question of this kind.</summary>
    public static ScreenBench At(NeedKind kind, int nth = 1)
    {
        var screen = new ScreenBench(new JobBench().Open().Prepare().Until(kind, nth));
        screen.Settle();
        return screen;
    }

    /// <summary>Lets the question stand long enough to be answered, and turns the screen.</summary>
    public void Settle()
    {
        Bench.Time.Pass(Ticks.OfSeconds(1));
        Screen.Turn();
    }

    /// <summary>Touches a target for a time.</summary>
    public void Touch(string target, int milliseconds = 80, long pointer = 1)
    {
        Screen.Down(pointer, target, Screen.View.Key, Ticks.Zero);
        Bench.Time.Pass(Ticks.OfMilliseconds(milliseconds));
        Screen.Up(pointer, Beat, Ticks.OfMilliseconds(milliseconds));
    }

    /// <summary>Presses the one physical button for a time.</summary>
    public void Button(int milliseconds)
    {
        Screen.ButtonDown(Screen.View.Key, Ticks.Zero);
        Bench.Time.Pass(Ticks.OfMilliseconds(milliseconds));
        Screen.ButtonUp(Beat, Ticks.OfMilliseconds(milliseconds));
    }

    private sealed class BenchClock(JobBench bench) : Companion.Engine.Ports.IClock
    {
        public Moment Now() => bench.Time.Now;
    }
}
