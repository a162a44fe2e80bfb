using Companion.Review;
using Companion.Screens.Showing;
using Companion.Tablet.Linking;

namespace Companion.Tablet.Web;

/// <summary>How the screens are served.</summary>
public sealed record TabletWebOptions
{
    /// <summary>The port on 127.0.0.1; 0 lets the system choose.</summary>
    public int Port { get; init; }

    /// <summary>What a browser or the watchdog must know; a new one for every start unless a supervisor hands the same on.</summary>
    public string Token { get; init; } = AccessToken.New();

    /// <summary>The key of the one physical button, by its name in the browser's key events.</summary>
    public string ButtonKey { get; init; } = "F9";

    /// <summary>An open job that no view shows for this long is told so aloud.</summary>
    public TimeSpan ViewPatience { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>Where the documents of the sheets lie; null shows none.</summary>
    public string? SheetFolder { get; init; }

    /// <summary>The recorded jobs; null shows none.</summary>
    public IRecordSource? Records { get; init; }

    /// <summary>How the link to the watch room stands; null without one.</summary>
    public Func<LinkStanding?> Link { get; init; } = () => null;

    /// <summary>Takes where the tablet is; null where the operator does not share it, and then no page asks the browser.</summary>
    public TabletPosition? Position { get; init; }

    /// <summary>How much faster than real time the clock runs; 1 outside rehearsals.</summary>
    public int Speed { get; init; } = 1;
}
