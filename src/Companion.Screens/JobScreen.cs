using System.Collections.Immutable;
using CommunityToolkit.Mvvm.ComponentModel;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Screens.Answering;
using Companion.Screens.Gestures;
using Companion.Screens.Showing;
using Companion.Screens.Starting;

namespace Companion.Screens;

/// <summary>
/// The job screen of one view. <see cref="Turn"/> is called about ten times a second from one thread, the same that brings the touches;
/// nothing is counted down in between. It holds no part of the job: closing a view changes nothing.
/// </summary>
public sealed class JobScreen(ScreenParts parts) : ObservableObject
{
    private readonly HoldGesture _touch = new();
    private readonly ButtonGesture _button = new();
    private Entry _entry = Entry.Empty;
    private Snapshot? _built;
    private Entry? _builtEntry;
    private ImmutableArray<Countdown> _countdowns = [];
    private ImmutableArray<LinkLine> _link = [];

    /// <summary>What the screen shows.</summary>
    public JobView View
    {
        get;
        private set => SetProperty(ref field, value);
    } = JobViews.NotConnected(parts.Opening.Rehearsal);

    /// <summary>The countdowns; empty while not connected or not recording.</summary>
    public ImmutableArray<Countdown> Countdowns
    {
        get => _countdowns;
        private set
        {
            if (!_countdowns.SequenceEqual(value))
            {
                SetProperty(ref _countdowns, value);
            }
        }
    }

    /// <summary>How the link to the watch room stands, in words; empty without one.</summary>
    public ImmutableArray<LinkLine> Link
    {
        get => _link;
        private set
        {
            if (!_link.SequenceEqual(value))
            {
                SetProperty(ref _link, value);
            }
        }
    }

    /// <summary>CLOCK_BOOTTIME of the engine's last turn: the page looks for this to move.</summary>
    public Ticks Beat { get; private set; }

    /// <summary>What has been chosen on the start screen.</summary>
    public StartChoice Choice
    {
        get;
        private set => SetProperty(ref field, value);
    } = StartChoice.None;

    /// <summary>The crew number typed on the panel for people: none of the job's own numbers.</summary>
    public Entry Crew
    {
        get;
        private set => SetProperty(ref field, value);
    } = Entry.Empty;

    /// <summary>The panel that is open over the job, or empty.</summary>
    public string Panel
    {
        get;
        private set => SetProperty(ref field, value);
    } = string.Empty;

    /// <summary>The choices on the start screen.</summary>
    public JobOpening Opening => parts.Opening;

    /// <summary>Brings the screen up to now.</summary>
    public void Turn()
    {
        var snapshot = parts.Snapshot();
        var now = parts.Clock.Now();
        Beat = snapshot.Moment.Boot;
        if (parts.Guard.IsStale(snapshot, now))
        {
            CutOff();
            return;
        }

        Show(snapshot);
        Link = LinkLine.Of(parts.Link(), now.Wall);
        Countdowns = snapshot is { Recording: true, Job: { Ended: false } job } ? Showing.Countdowns.Of(job, now) : [];
        if (_button.Tick(now) is { } sign)
        {
            Told(sign);
        }
    }

    /// <summary>A finger or key went down.</summary>
    /// <param name="pointer">Which one.</param>
    /// <param name="target">On what, as <see cref="Target"/> names it.</param>
    /// <param name="shown">The question that the page carried then.</param>
    /// <param name="age">How long ago that was by the page's own clock.</param>
    public void Down(long pointer, string target, QuestionKey shown, Ticks age)
    {
        var at = Before(age);
        _touch.Down(pointer, target, shown, at);
        if (target == Target.Third && View is { Kind: ViewKind.Job })
        {
            Say(Phrase.Stop, By.Touch, new Press(target, shown, at, Ticks.Zero));
        }
    }

    /// <summary>It came up on what it went down on.</summary>
    /// <param name="pointer">Which one.</param>
    /// <param name="beat">The engine's last turn as the page knew it then: a touch that was long on its way belongs to no question.</param>
    /// <param name="measured">How long it was down by the page's own clock.</param>
    public void Up(long pointer, Ticks beat, Ticks measured)
    {
        var now = parts.Clock.Now();
        if (_touch.Up(pointer, now, measured) is not { } press)
        {
            return;
        }

        var late = parts.Guard.IsOld(beat, now);
        if (View.Kind == ViewKind.Job || (View.Kind != ViewKind.NotConnected && !late))
        {
            Pressed(late ? press with { Shown = QuestionKey.None } : press);
        }
    }

    /// <summary>The place was typed on the start screen.</summary>
    public void TypePlace(string? text) => Choice = Choice with { Place = (text ?? string.Empty)[..Math.Min(text?.Length ?? 0, StartChoice.MostPlace)] };

    /// <summary>It slid off, or was taken away.</summary>
    public void Cancel(long pointer) => _touch.Cancel(pointer);

    /// <summary>The one physical button went down.</summary>
    /// <param name="shown">The question that the page carried then.</param>
    /// <param name="age">How long ago that was by the page's own clock.</param>
    public void ButtonDown(QuestionKey shown, Ticks age) => _button.Down(shown, Before(age));

    /// <summary>The one physical button came up.</summary>
    /// <param name="beat">The engine's last turn as the page knew it then.</param>
    /// <param name="measured">How long it was down by the page's own clock.</param>
    public void ButtonUp(Ticks beat, Ticks measured)
    {
        var now = parts.Clock.Now();
        if (parts.Guard.IsOld(beat, now))
        {
            _button.Reset();
        }
        else if (_button.Up(now, measured) is { } sign)
        {
            Told(sign);
        }
    }

    /// <summary>The page lost its fingers or its link.</summary>
    public void Reset()
    {
        _touch.Reset();
        _button.Reset();
    }

    private Moment Before(Ticks age)
    {
        var now = parts.Clock.Now();
        return age <= Ticks.Zero || age > now.Boot ? now : now with { Boot = now.Boot - age };
    }

    private void CutOff()
    {
        Reset();
        _built = null;
        _entry = Entry.Empty;
        Panel = string.Empty;
        View = JobViews.NotConnected(parts.Opening.Rehearsal);
        Countdowns = [];
    }

    private void Show(Snapshot snapshot)
    {
        var key = QuestionKey.Of(snapshot.Job);
        if (key != View.Key)
        {
            _entry = Entry.Empty;
            Panel = string.Empty;
        }

        var same = _built is { } built && _builtEntry == _entry && built with { Moment = snapshot.Moment } == snapshot;
        if (!same)
        {
            View = JobViews.Of(snapshot, _entry, parts.Sheets, parts.Opening);
            _builtEntry = _entry;
        }

        _built = snapshot;
    }

    private void Pressed(Press press)
    {
        var (kind, detail) = Target.Split(press.Target);
        switch (kind)
        {
            case Target.Primary:
                Answer(View.Buttons.Primary, press);
                break;
            case Target.Second:
                Answer(View.Buttons.Second, press);
                break;
            case Target.Say when Enum.TryParse<Phrase>(detail, out var phrase):
                Say(phrase, By.Touch, press);
                OpenPanel(string.Empty);
                break;
            case Target.Key or Target.Sheet when press.Shown != View.Key:
                break;
            case Target.Key when Panel == Target.People && detail.Length == 1:
                Crew = Crew.With(detail[0], NumberNeed.Crew);
                break;
            case Target.Key when View.Number is { } need && detail.Length == 1:
                Type(_entry.With(detail[0], need));
                break;
            case Target.Sheet:
                Type(new Entry(detail, false));
                break;
            case Target.Panel:
                OpenPanel(Panel == detail ? string.Empty : detail);
                break;
            default:
                Start(kind, detail, press);
                break;
        }
    }

    private void OpenPanel(string name)
    {
        Crew = Entry.Empty;
        Panel = name;
    }

    private void Start(string kind, string detail, Press press)
    {
        if (View.Kind is not (ViewKind.Start or ViewKind.Ended))
        {
            return;
        }

        Choice = kind switch
        {
            Target.Technician => Choice.WithTechnician(detail),
            Target.SecondPerson => Choice with { SecondPerson = detail },
            Target.Kit => Choice with { Kit = detail },
            Target.SameEvent => Choice with { SameEvent = !Choice.SameEvent && View.Kind == ViewKind.Ended },
            _ => Choice,
        };
        if (kind == Target.Open && press.IsDeliberate && Opener.Open(parts.Opening, Choice, parts.Snapshot().Job?.Id) is { } open)
        {
            parts.Post(open);
            Choice = StartChoice.None;
        }
    }

    private void Type(Entry entry)
    {
        _entry = entry;
        Turn();
    }

    /// <summary>A hold button that was only tapped still answers: the rules then ask for the code.</summary>
    private void Answer(ScreenButton button, Press press)
    {
        if (button is { Enabled: true, Phrase: { } phrase })
        {
            Say(phrase, By.Touch, press);
        }
    }

    private void Told(ButtonSign sign)
    {
        if (View.Kind != ViewKind.Job)
        {
            return;
        }

        var press = new Press(Target.Primary, sign.Shown, sign.Began, sign.Held);
        Say(ButtonMeaning.Of(sign.Kind, View, parts.Snapshot().Job?.Question), By.Button, press);
    }

    private void Say(Phrase phrase, By by, Press press) => parts.Post(Answers.Make(phrase, by, press, parts.Snapshot().Job?.Question, Answers.IsOfPerson(phrase) ? Crew : _entry));
}
