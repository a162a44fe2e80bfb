using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Companion.Domain.CheckIn;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Screens.Starting;
using Companion.Sheets;
using Companion.Tablet.Clocks;
using Companion.Tablet.Kiosk;
using Companion.Tablet.Linking;
using Companion.Tablet.Watchdog;
using Companion.Tablet.Web;

namespace Companion.Tablet.Cli;

/// <summary>start [--store DIR]: the app, its screen, and the watchdog beside it, until stopped.</summary>
public static class StartVerb
{
    /// <summary>Runs until the process is told to end.</summary>
    public static async Task<int> RunAsync(Options options)
    {
        options.Only("store", "port", "button");
        var store = options["store"] ?? Places.Store;
        var sheets = Places.Sheets(store);
        var crew = CrewFile();
        var watch = WatchFile.Read();
        var position = watch is { SharesPosition: true } ? new TabletPosition(BootTime.Provider) : null;
        await using var tablet = await TabletApp.OpenAsync(store, Places.Assets, sheets, id => NameOf(crew, id), position).ConfigureAwait(false);
        var web = new TabletWebOptions
        {
            Port = PortOf(options),
            ButtonKey = options["button"] ?? "F9",
            SheetFolder = sheets,
            Records = new StoreRecords(store),
            Link = () => tablet.Watchroom.Standing,
            Position = tablet.Watchroom.IsPaired ? position : null,
        };
        await using var app = TabletWeb.Build(web, tablet.Engine, tablet.Clock, tablet.Sheets, Opening(tablet, crew, watch?.Policy));
        await app.StartAsync().ConfigureAwait(false);
        Report(tablet, store, sheets);
        using var watchdog = new WatchdogKeeper(store, () => Watchdog(TabletWeb.BeatAddress(app), web.Token));
        using var window = new KioskWindow(() => KioskLauncher.Open(TabletWeb.Address(app), Path.Combine(store, "browser"), Console.Out));
        window.Open();
        TabletWeb.WhenNoView(app, window.Open);
        Console.WriteLine($"Small view: {TabletWeb.Address(app, "/cuff")}");
        await app.WaitForShutdownAsync().ConfigureAwait(false);
        return 0;
    }

    private static void Report(TabletApp tablet, string store, string sheets)
    {
        Console.WriteLine($"Store: {store}");
        Console.WriteLine($"Sheets: {sheets}");
        foreach (var finding in tablet.Findings)
        {
            Console.WriteLine($"{(finding.Severe ? "DAMAGE" : "note")}: {finding.Message} {finding.Detail}".TrimEnd());
        }

        _ = tablet.Sheets.All();
        foreach (var problem in tablet.Sheets.Problems)
        {
            Console.WriteLine($"Sheet left out: {problem}");
        }
    }

    private static Crew CrewFile()
    {
        var reading = CrewReader.ReadFile(Path.Combine(Places.Data, "crew.yaml"));
        return reading.Crew ?? throw new UsageException($"crew.yaml: {string.Join(Environment.NewLine, reading.Problems)}");
    }

    private static string NameOf(Crew crew, string id) => crew.Technicians.FirstOrDefault(person => person.Id == id)?.Name ?? id;

    private static JobOpening Opening(TabletApp tablet, Crew crew, CheckInPolicy? watch)
    {
        if (watch is null && tablet.Watchroom.IsPaired)
        {
            throw new UsageException("This tablet has a watch room, and there is no watch.yaml: nobody would be asked to check in. Put one beside crew.yaml.");
        }

        return new JobOpening(
            Choices(crew.Technicians),
            Choices(crew.SecondPersons),
            Kits(),
            false,
            ExposurePolicy.SecondPerson,
            RatingPolicy.AcFigure,
            () => $"job-{tablet.Clock.Now().Wall.ToUniversalTime().ToString("yyyyMMdd-HHmmss", CultureInfo.InvariantCulture)}-{Random.Shared.Next(0x10000):x4}",
            () => tablet.LatestWall)
        {
            Arrival = ArrivalFile.Read(),
            Watch = watch,
            HasWatchroom = tablet.Watchroom.IsPaired,
            Sound = SoundFile.Read(),
        };
    }

    private static ImmutableArray<CrewChoice> Choices(ImmutableArray<CrewMember> members) =>
        [.. members.Select(member => new CrewChoice(member.Id, member.Name))];

    private static ImmutableArray<KitList> Kits()
    {
        var kits = ImmutableArray.CreateBuilder<KitList>();
        foreach (var path in Directory.EnumerateFiles(Path.Combine(Places.Data, "kit"), "*.yaml").Order(StringComparer.Ordinal))
        {
            var reading = KitReader.ReadFile(path);
            foreach (var problem in reading.Problems)
            {
                Console.WriteLine($"Kit left out: {Path.GetFileName(path)}: {problem}");
            }

            if (reading.Kit is { } kit)
            {
                kits.Add(kit);
            }
        }

        return kits.ToImmutable();
    }

    private static int PortOf(Options options) => options["port"] is not { } text ? 0
        : int.TryParse(text, CultureInfo.InvariantCulture, out var port) && port is >= 0 and < 65536 ? port
        : throw new UsageException("--port is a number up to 65535.");

    /// <summary>The watchdog is this program again, in a process of its own; the token goes by the environment, not by the command line.</summary>
    private static ProcessStartInfo Watchdog(Uri beat, string token)
    {
        var self = Environment.ProcessPath!;
        string[] arguments = ["watchdog", "--url", beat.ToString(), "--pid", Environment.ProcessId.ToString(CultureInfo.InvariantCulture)];
        var hosted = Path.GetFileNameWithoutExtension(self) == "dotnet";
        var start = new ProcessStartInfo(self, hosted ? [typeof(StartVerb).Assembly.Location, .. arguments] : arguments);
        start.Environment[WatchdogVerb.TokenVariable] = token;
        return start;
    }
}
