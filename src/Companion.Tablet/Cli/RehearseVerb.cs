using System.Globalization;
using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Sheets;
using Companion.Sheets.Rehearsals;
using Companion.Tablet.Rehearsing;
using Companion.Voice.Detection;
using Companion.Voice.Ear;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Cli;

/// <summary>rehearse FILE: a scripted job through the real ear, engine and journal.</summary>
public static class RehearseVerb
{
    private static readonly DateTimeOffset Start = new(2026, 11, 25, 19, 30, 0, TimeSpan.Zero);

    /// <summary>Plays the script; 0 when it ended as the script says.</summary>
    public static async Task<int> RunAsync(Options options)
    {
        options.Only("store", "speed", "wav", "input");
        var script = Read(options.Words.Count == 1 ? options.Words[0] : throw new UsageException("rehearse needs one script file."));
        var store = options["store"] ?? Directory.CreateTempSubdirectory("companion-rehearsal-").FullName;
        var kit = KitReader.ReadFile(Path.Combine(Places.Data, "kit", $"{script.Kit}.yaml")).Kit
            ?? throw new UsageException($"The kit '{script.Kit}' cannot be read.");
        var crew = CrewReader.ReadFile(Path.Combine(Places.Data, "crew.yaml")).Crew ?? throw new UsageException("crew.yaml cannot be read.");
        var folder = Path.Combine(Places.Assets, "ear");
        using var model = OnnxAcousticModel.TryLoad(folder, out var noModel) ?? throw new UsageException(noModel!);
        using var detector = SileroDetector.TryLoad(folder, out var noDetector) ?? throw new UsageException(noDetector!);
        var lexicon = Lexicon.Load(Path.Combine(Places.Assets, "lexicon", "lexicon.txt"));
        using var track = new SoundTrack(options["wav"]);
        var chance = new SeededChance(script.Seed);
        var tools = new StageTools(
            store,
            detector,
            new Recogniser(model, lexicon),
            new SpeechCache(FallbackSynthesiser.Usual()),
            new FolderCatalogue(Path.Combine(Places.Data, "sheets")),
            chance,
            SpeedOf(options));
        await using var stage = new Stage(tools, Start, track) { OnEntry = Show, Recorded = options["input"] };
        stage.OnEntry += entry => Count(entry, chance);
        Console.WriteLine($"{script.Name}: {script.About}");
        Console.WriteLine($"store: {store}");
        var rehearsal = new Rehearsal(
            script, kit.Items, NameOf(crew, script.Technician)!, NameOf(crew, script.SecondPerson), script.Arrival ? ArrivalFile.Read() : null, script.Watch ? WatchFile.Read()?.Policy : null, stage, Speakers.Of(script));
        return Conclude(script, await rehearsal.PlayAsync().ConfigureAwait(false));
    }

    private static RehearsalScript Read(string path)
    {
        var (script, problems) = ScriptReader.ReadFile(path);
        return script ?? throw new UsageException($"{path}: {string.Join(Environment.NewLine, problems)}");
    }

    private static double SpeedOf(Options options)
    {
        var speed = 0.0;
        return options["speed"] is not { } text || (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out speed) && speed >= 0)
            ? speed
            : throw new UsageException("--speed is a number: 1 for real time, 0 for as fast as it goes.");
    }

    private static string? NameOf(Crew crew, string? id) => id is null
        ? null
        : crew.Technicians.Concat(crew.SecondPersons).FirstOrDefault(member => member.Id == id)?.Name
            ?? throw new UsageException($"Nobody in crew.yaml has the id '{id}'.");

    private static void Show(JournalEntry entry)
    {
        if (entry.Type is "clock.anchored" && entry.Data.Contains("tick", StringComparison.Ordinal))
        {
            return;
        }

        var data = (JsonObject)JsonNode.Parse(entry.Data)!;
        foreach (var (name, text) in entry.Sealed)
        {
            data[name] = text.Text;
        }

        // The quiet word is never told from a check-in on the tablet, in a rehearsal neither (I10).
        foreach (var hidden in entry.Type is "checkin.made" ? ["kind"] : entry.Type is "job.opened" ? ["quiet", "watch"] : Array.Empty<string>())
        {
            data.Remove(hidden);
        }

        data.Remove("sheet");
        data.Remove("kit");
        var members = string.Join("  ", data.Select(member => $"{member.Key}={member.Value}"));
        Console.WriteLine($"{entry.Time:HH:mm:ss.f}  {entry.Type,-20} {members}");
    }

    private static void Count(JournalEntry entry, SeededChance chance)
    {
        if (entry.Type == "code.asked")
        {
            chance.Asked();
        }
    }

    private static int Conclude(RehearsalScript script, RehearsalOutcome outcome)
    {
        foreach (var fault in outcome.Faults)
        {
            Console.WriteLine($"NOT AS THE SCRIPT SAYS: {fault}");
        }

        Console.WriteLine(
            $"{script.Name}: {outcome.Entries} entries, {outcome.Duration.Seconds} s of job time, {outcome.Spoken} answers by voice, "
            + $"{outcome.Corrected} echoes corrected, {outcome.Held} by button; "
            + (outcome.Faults.Count == 0 ? "ended as the script says" : "did not end as the script says"));
        return outcome.Faults.Count == 0 ? 0 : 1;
    }
}
