using System.ComponentModel;
using System.Globalization;
using Companion.Domain.Time;
using Companion.Screens;
using Companion.Screens.Answering;
using Companion.Tablet.Web;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace Companion.Tablet.Components;

/// <summary>
/// What the job screen and the cuff share: a view model of their own, one turn per tick of the one timer, and the touches that the page's
/// script reports. A tick renders the beat; the countdowns and the rest are rendered only when they changed.
/// </summary>
public abstract class ScreenPage : ComponentBase, IAsyncDisposable
{
    private DotNetObjectReference<ScreenPage>? _self;
    private bool _changed;
    private bool _counted;

    /// <summary>False for a page that is only read: no finger, no key and no button on it reaches the job.</summary>
    protected virtual bool TakesAnswers => true;

    /// <summary>The view model.</summary>
    protected JobScreen Screen { get; private set; } = null!;

    [Inject]
    private ScreenParts Parts { get; set; } = null!;

    [Inject]
    private ScreenTicker Ticker { get; set; } = null!;

    [Inject]
    private IJSRuntime Script { get; set; } = null!;

    /// <summary>A finger or key went down on a target.</summary>
    [JSInvokable]
    public void Down(long pointer, string target, string shown, long age) =>
        Handle(() => Screen.Down(pointer, target, QuestionKey.Parse(shown), Ticks.OfMilliseconds(age)));

    /// <summary>It came up there. The beat is text: script has no whole numbers of that length.</summary>
    [JSInvokable]
    public void Up(long pointer, string beat, long held) => Handle(() => Screen.Up(pointer, Read(beat), Ticks.OfMilliseconds(held)));

    /// <summary>It slid off.</summary>
    [JSInvokable]
    public void Cancel(long pointer) => Screen.Cancel(pointer);

    /// <summary>The one physical button went down.</summary>
    [JSInvokable]
    public void ButtonDown(string shown, long age) => Screen.ButtonDown(QuestionKey.Parse(shown), Ticks.OfMilliseconds(age));

    /// <summary>The one physical button came up.</summary>
    [JSInvokable]
    public void ButtonUp(string beat, long held) => Handle(() => Screen.ButtonUp(Read(beat), Ticks.OfMilliseconds(held)));

    /// <summary>The page lost its fingers or shows its cover.</summary>
    [JSInvokable]
    public void Reset() => Screen.Reset();

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        Ticker.Turned -= OnTicked;
        Screen.PropertyChanged -= OnChanged;
        _self?.Dispose();
        GC.SuppressFinalize(this);
        return ValueTask.CompletedTask;
    }

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        Screen = new JobScreen(Parts);
        Screen.PropertyChanged += OnChanged;
        if (RendererInfo.IsInteractive)
        {
            Screen.Turn();
            Ticker.Turned += OnTicked;
        }
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender)
        {
            _self = TakesAnswers ? DotNetObjectReference.Create(this) : null;
            await Script.InvokeVoidAsync("companion.attach", _self);
        }
    }

    /// <summary>Renders the part that shows the engine's beat.</summary>
    protected abstract void RenderBeat();

    /// <summary>Renders the countdowns alone.</summary>
    protected abstract void RenderCountdowns();

    private static Ticks Read(string beat) =>
        long.TryParse(beat, NumberStyles.None, CultureInfo.InvariantCulture, out var nanoseconds) ? new Ticks(nanoseconds) : Ticks.Zero;

    private void OnTicked() => _ = InvokeAsync(() => Handle(Screen.Turn));

    private void OnChanged(object? sender, PropertyChangedEventArgs change)
    {
        _counted |= change.PropertyName == nameof(JobScreen.Countdowns);
        _changed |= change.PropertyName != nameof(JobScreen.Countdowns);
    }

    private void Handle(Action act)
    {
        act();
        if (_changed)
        {
            StateHasChanged();
        }
        else if (_counted)
        {
            RenderCountdowns();
        }

        RenderBeat();
        (_changed, _counted) = (false, false);
    }
}
