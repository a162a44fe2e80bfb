using System.Collections.Immutable;
using Companion.Watchroom.Access;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Web;

/// <summary>Who looks at a page.</summary>
public sealed record Viewer(string Name, Role Role);

/// <summary>What the page of tablets shows.</summary>
public sealed record DevicesModel(IReadOnlyList<Device> Devices, string? Code);

/// <summary>An alert as the board shows it.</summary>
public sealed record AlertCard(Alert Alert, string Tablet, ImmutableArray<TellingState> Tellings);

/// <summary>A trouble of the watch room itself as the board shows it, with who is told of it where somebody is.</summary>
public sealed record TroubleCard(RoomTrouble Trouble, AlertCard? Alert);

/// <summary>Somebody who is out, as the board shows them.</summary>
public sealed record WatchCard(Watch Watch, string Tablet, string? GeoLink);

/// <summary>The board at one time, as one role may see it.</summary>
public sealed record BoardModel(
    string Version,
    DateTimeOffset Now,
    ImmutableArray<AlertCard> Open,
    ImmutableArray<AlertCard> Taken,
    ImmutableArray<WatchCard> Watches,
    ImmutableArray<BlindPeriod> Blind)
{
    /// <summary>What is amiss with the watch room itself.</summary>
    public ImmutableArray<TroubleCard> Troubles { get; private init; } = [];

    private const int MostTaken = 20;
    private const int MostBlind = 5;

    /// <summary>The board as it is now.</summary>
    internal static BoardModel Of(string version, WatchroomServices services, Role role)
    {
        var view = services.Keeper.View;
        var alerts = view.Alerts
            .Where(alert => role != Role.Technician || alert.Kind != AlertKind.Quiet)
            .Select(alert => new AlertCard(alert, NameOf(services, alert.Device), services.Teller.States(alert.Id)))
            .ToList();
        return new BoardModel(
            version,
            services.Time.GetUtcNow(),
            [.. alerts.Where(card => card.Alert.Taken is null).OrderBy(card => card.Alert.Rehearsal).ThenBy(card => card.Alert.Raised)],
            [.. alerts.Where(card => card.Alert.Taken is not null).Take(MostTaken)],
            [.. view.Watches.OrderBy(watch => watch.OverdueFrom ?? DateTimeOffset.MaxValue).Select(watch => new WatchCard(watch, NameOf(services, watch.Device), LastPosition.LinkOf(watch.Last.Where)))],
            [.. view.Blind.OrderByDescending(blind => blind.To).Take(MostBlind)])
        {
            Troubles =
            [
                .. services.Troubles.Now().Where(trouble => role != Role.Technician || !trouble.OfTelling)
                    .Select(trouble => new TroubleCard(trouble, trouble.Alert is { } alert ? new AlertCard(alert, string.Empty, services.Teller.States(alert.Id)) : null)),
            ],
        };
    }

    private static string NameOf(WatchroomServices services, string device) => services.Devices.Find(device)?.Called ?? device;
}
