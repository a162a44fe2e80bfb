using System.Diagnostics;
using System.Globalization;
using Companion.Simulation.Defects;
using Companion.Simulation.Endurance;
using Companion.Simulation.Worlds;

namespace Companion.Simulation.Running;

/// <summary>
/// The verb `simulate`: `--seed N --runs N [--steps N] [--export DIR] [--first yes]`, `--watched N` instead of `--runs`, `--replay "world ..."` or `"watched ..."`, `--defects check|hunt [--only TEXT]`, or
/// `--endurance day|fullload`. Prints counts, the first violations with the lines that replay them (the first made small), and `N violations` last. Exit code 0 if
/// none, 1 if some, 2 for wrong options.
/// </summary>
internal static class Simulate
{
    private const int DefaultRuns = 500;
    private const int DefaultSteps = 80;
    private const int MostShown = 5;

    /// <summary>Runs the verb.</summary>
    public static int Run(string[] arguments, TextWriter output)
    {
        Dictionary<string, string> options;
        try
        {
            options = Options(arguments);
            if (options.TryGetValue("--replay", out var line))
            {
                return Replay(PlanLine.Parse(line), output);
            }

            if (options.TryGetValue("--defects", out var how))
            {
                return DefectHunt.Run(how == "hunt", output, only: options.GetValueOrDefault("--only"));
            }

            if (options.TryGetValue("--endurance", out var load))
            {
                return Endure(load == "day" ? LongLoad.Day : LongLoad.FullLoad, output);
            }

            if (options.ContainsKey("--watched"))
            {
                return ManyWatched(Number(options, "--seed", 1), Number(options, "--watched", DefaultRuns), Number(options, "--steps", DefaultSteps), options.ContainsKey("--first"), output);
            }

            var runs = Number(options, "--runs", DefaultRuns);
            var export = options.GetValueOrDefault("--export");
            return Many(Number(options, "--seed", 1), runs, Number(options, "--steps", DefaultSteps), export, options.ContainsKey("--first"), output);
        }
        catch (FormatException wrong)
        {
            output.WriteLine(wrong.Message);
            output.WriteLine("simulate [--seed N] [--runs N | --watched N] [--steps N] [--export DIR] [--first yes] | --replay \"world ...\" | --defects check|hunt [--only TEXT] | --endurance day|fullload");
            return 2;
        }
    }

    private static int Many(int seed, int runs, int steps, string? export, bool firstIsEnough, TextWriter output)
    {
        var watch = Stopwatch.StartNew();
        var tally = new Tally();
        var outcomes = Runner.LiveMany(seed, runs, steps, tally, (plan, world) => Export(plan, world, export), firstIsEnough);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{tally.Worlds} worlds, {tally.Steps} steps, {tally.Entries} entries, {tally.Prompts} prompts, {tally.Cleared} came to clear to work, in {watch.Elapsed.TotalSeconds:0.0} s"));
        output.WriteLine("faults: " + string.Join(", ", tally.Faults.Select(fault => $"{fault.Value} {fault.Key}")));
        output.WriteLine("no watch room in these worlds: --watched N lives those");
        return Tell(outcomes, output);
    }

    private static int ManyWatched(int seed, int runs, int steps, bool firstIsEnough, TextWriter output)
    {
        var watch = Stopwatch.StartNew();
        var tally = new Tally();
        var outcomes = Runner.LiveManyWatched(seed, runs, steps, tally, firstIsEnough);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{tally.Worlds} watched worlds, {tally.Steps} steps, {tally.Entries} entries, {tally.Alerts} alerts, in {watch.Elapsed.TotalSeconds:0.0} s"));
        output.WriteLine("faults: " + string.Join(", ", tally.Faults.Select(fault => $"{fault.Value} {fault.Key}")));
        return Tell(outcomes, output);
    }

    private static int Tell(IReadOnlyList<Outcome> outcomes, TextWriter output)
    {
        var failing = outcomes.Where(outcome => outcome.Violation is not null).ToList();
        if (failing is [var first, ..])
        {
            output.WriteLine($"seen in \"{first.Plan}\", being made small: {first.Violation}");
        }

        foreach (var outcome in failing.Take(MostShown).Select((outcome, at) => at == 0 ? Shrinker.Shrink(outcome) : outcome))
        {
            output.WriteLine($"{outcome.Violation}\n  ./companion simulate --replay \"{outcome.Plan}\"");
        }

        output.WriteLine($"{failing.Count} violations");
        return failing.Count == 0 ? 0 : 1;
    }

    private static int Replay(IPlan plan, TextWriter output)
    {
        var outcome = Runner.Live(plan, new Tally { Trace = output.WriteLine });
        output.WriteLine(outcome.Violation ?? $"head {outcome.Head}");
        output.WriteLine(outcome.Violation is null ? "0 violations" : $"at step {outcome.Step}\n1 violations");
        return outcome.Violation is null ? 0 : 1;
    }

    private static int Endure(LongLoad load, TextWriter output)
    {
        var watch = Stopwatch.StartNew();
        var job = LongJob.OpenAsync(load).GetAwaiter().GetResult();
        var report = job.LiveAsync().GetAwaiter().GetResult();
        job.DisposeAsync().AsTask().GetAwaiter().GetResult();
        var faults = report.Faults().ToList();
        foreach (var line in report.Lines().Concat(faults))
        {
            output.WriteLine(line);
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"in {watch.Elapsed.TotalSeconds:0} s"));
        return faults.Count == 0 ? 0 : 1;
    }

    /// <summary>Writes what the journal of a world holds, for a checker of another make.</summary>
    private static void Export(Plan plan, World world, string? folder)
    {
        if (folder is not null)
        {
            Directory.CreateDirectory(folder);
            world.ExportTo(Path.Combine(folder, $"world-{plan.Seed}.ndjson"));
        }
    }

    private static Dictionary<string, string> Options(string[] arguments)
    {
        var options = new Dictionary<string, string>();
        for (var at = 0; at < arguments.Length; at += 2)
        {
            if (arguments[at] is not ("--seed" or "--runs" or "--steps" or "--export" or "--replay" or "--defects" or "--endurance" or "--first" or "--watched" or "--only") || at + 1 == arguments.Length)
            {
                throw new FormatException($"\"{arguments[at]}\" is no option, or has no value.");
            }

            options[arguments[at]] = arguments[at + 1];
        }

        return options;
    }

    private static int Number(Dictionary<string, string> options, string name, int otherwise)
    {
        if (!options.TryGetValue(name, out var text))
        {
            return otherwise;
        }

        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && (number > 0 || name == "--seed")
            ? number
            : throw new FormatException($"{name} wants a whole number, not \"{text}\".");
    }
}
