using System.Globalization;
using Companion.Domain.Electrical;
using Companion.Engine.Ports;
using Companion.Tablet.Clocks;
using Companion.Tablet.Workshop;

namespace Companion.Tablet.Cli;

/// <summary>
/// workshop resistance: the isolation resistance of an undamaged vehicle in a workshop, with a second person there. It measures and records
/// nothing, and stands outside every job.
/// </summary>
public static class WorkshopVerb
{
    private const string Usage = "workshop resistance --vb V --v1 V --v2 V --ro OHM --primed V --meter-mohm MOHM "
        + "--second-person NAME --vehicle-undamaged yes [--meter-percent P] [--store DIR]";

    /// <summary>Prints cautions, result and verdict; 0 when there is a result, 1 when it is refused.</summary>
    public static int Run(Options options) => Run(options, Console.Out, new TabletClock());

    /// <summary>The same with another output and clock.</summary>
    public static int Run(Options options, TextWriter output, IClock clock)
    {
        if (options.Words is not ["resistance"])
        {
            throw new UsageException(Usage);
        }

        options.Only("vb", "v1", "v2", "ro", "primed", "meter-mohm", "meter-percent", "second-person", "vehicle-undamaged", "store");
        output.WriteLine("Live work on a connected pack, in a workshop, by trained people in rated equipment. Never at the roadside.");
        if ((Condition(options) ?? Store(options["store"], output, clock.Now().Wall)) is { } reason)
        {
            output.WriteLine($"Refused. {reason}");
            return 1;
        }

        output.WriteLine($"Second person: {options["second-person"]}. Both stay until the meter and the resistor are off.");
        return Print(ReadingsOf(options), output);
    }

    private static string? Condition(Options options) =>
        string.IsNullOrWhiteSpace(options["second-person"]) ? "Live work is not done alone. Name who stands by: --second-person NAME."
        : options["vehicle-undamaged"] is null ? "Say whether the vehicle is undamaged: --vehicle-undamaged yes."
        : options["vehicle-undamaged"] != "yes" ? "The pack of a damaged vehicle is not measured live. Keep away, and ask the maker."
        : null;

    private static string? Store(string? named, TextWriter output, DateTimeOffset now)
    {
        var store = named ?? Places.Store;
        if (StoreJobs.Exists(store))
        {
            return StoreJobs.Obstacle(store, now);
        }

        if (named is not null)
        {
            throw new UsageException($"There is no store in {named}.");
        }

        output.WriteLine($"There is no store in {store}: whether a job is open could not be looked up.");
        return null;
    }

    private static IsolationReadings ReadingsOf(Options options) => new()
    {
        RailToRail = Number(options, "vb"),
        NegativeToChassis = Number(options, "v1"),
        PositiveToChassis = Number(options, "v2"),
        KnownOhms = Number(options, "ro"),
        Primed = Number(options, "primed"),
        MeterMegohms = Number(options, "meter-mohm"),
        MeterPercent = options["meter-percent"] is null ? IsolationResistance.UsualMeterPercent : Number(options, "meter-percent"),
    };

    private static decimal Number(Options options, string name) =>
        decimal.TryParse(options.Required(name), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw new UsageException($"--{name} is a number without a sign and a unit, such as 218.2.");

    private static int Print(IsolationReadings readings, TextWriter output)
    {
        switch (IsolationResistance.Of(readings))
        {
            case IsolationResult.Found found:
                Print(readings, found, output);
                return 0;
            case IsolationResult.Unusable unusable:
                output.WriteLine($"Refused. {unusable.Reason}");
                return 1;
            default:
                throw new InvalidOperationException("There is no third kind of result.");
        }
    }

    private static void Print(IsolationReadings readings, IsolationResult.Found found, TextWriter output)
    {
        foreach (var caution in found.Cautions)
        {
            output.WriteLine($"Caution. {caution}");
        }

        var from = IsolationResistance.ResistorFrom(readings).ToString().ToLowerInvariant();
        output.WriteLine($"The known resistor belongs from the {from} rail to chassis. If it was fitted elsewhere, the figure is wrong.");
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"Isolation resistance: {found.Ohms:0} ohm, the weaker leg, {found.WeakLeg.ToString().ToLowerInvariant()} rail to chassis; {found.OhmsPerVolt:0.###} ohm per volt."));
        output.WriteLine(Verdict("DC system", IsolationResistance.LeastOhmsPerVoltDc, found.PassesDc));
        output.WriteLine(Verdict("System with AC parts joined to it", IsolationResistance.LeastOhmsPerVoltAc, found.PassesAc));
    }

    private static string Verdict(string system, decimal limit, bool passes) =>
        $"{system}, at least {limit} ohm per volt (UN R100 5.1.3): {(passes ? "kept" : "NOT kept. Find the fault before the vehicle is used.")}";
}
