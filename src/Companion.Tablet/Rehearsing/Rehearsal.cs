using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Arrival;
using Companion.Domain.CheckIn;
using Companion.Domain.Kit;
using Companion.Domain.Time;
using Companion.Sheets.Rehearsals;
using Companion.Voice.Audio;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Rehearsing;

/// <summary>How a rehearsal went.</summary>
/// <param name="Faults">Where it differed from the script; empty when it ended as the script says.</param>
/// <param name="Entries">Entries in the job's chain.</param>
/// <param name="Spoken">Answers by voice.</param>
/// <param name="Corrected">Echoes that were wrong.</param>
/// <param name="Held">Answers for which the button stood in for the ear.</param>
/// <param name="Duration">Length of the job in simulated time.</param>
public sealed record RehearsalOutcome(IReadOnlyList<string> Faults, long Entries, int Spoken, int Corrected, int Held, Ticks Duration);

/// <summary>Plays a script on a stage and compares what was recorded with what the script expects.</summary>
public sealed class Rehearsal(
    RehearsalScript script, ImmutableArray<KitItem> kit, string technicianName, string? secondName, ArrivalList? arrival, CheckInPolicy? watch, Stage stage, ISynthesiser voice)
{
    private const int MostSeconds = 4 * 3600;

    /// <summary>Frames that pass while the job is opened, before the first line is played.</summary>
    private const int FramesBeforeLines = 4;

    private readonly Dictionary<string, int> _counts = [];
    private readonly List<string> _faults = [];
    private readonly List<string> _refusals = [];

    /// <summary>Plays the whole script.</summary>
    public async Task<RehearsalOutcome> PlayAsync()
    {
        stage.OnEntry += Note;
        await stage.OpenAsync().ConfigureAwait(false);
        var began = stage.Now.Boot;
        stage.Engine.Post(new OpenJob(
            $"rehearsal-{script.Name}", script.Technician, technicianName, secondName, true, script.Policy, RatingPolicy.AcFigure, kit, stage.Now.Wall)
        {
            Arrival = arrival,
            Watch = watch,
        });
        await stage.PassAsync(Ticks.OfMilliseconds(100)).ConfigureAwait(false);
        var person = new Technician(stage, voice, script.Readings.SetItem("sheet", script.Sheet.ToString()));
        if (stage.Recorded is { } recorded)
        {
            stage.Speak(WavFile.Read(recorded).AsSpan(AudioFormat.FrameSamples * FramesBeforeLines));
            await stage.PassUntilAsync(() => stage.IsQuietOfPerson, Ticks.OfSeconds(MostSeconds)).ConfigureAwait(false);
        }

        foreach (var line in stage.Recorded is null ? script.Lines : [])
        {
            await PlayAsync(person, line).ConfigureAwait(false);
        }

        await stage.PassUntilAsync(() => stage.IsQuiet, Ticks.OfSeconds(60)).ConfigureAwait(false);
        Compare();
        return new RehearsalOutcome(_faults, stage.Shown, person.Spoken, person.Corrected, person.Held, stage.Now.Boot - began);
    }

    private async Task PlayAsync(Technician person, ScriptLine line)
    {
        _refusals.Clear();
        switch (line.Kind)
        {
            case LineKind.Follow when !await person.FollowAsync(Enum.Parse<NeedKind>(line.Text, true), line.Step).ConfigureAwait(false):
                _faults.Add($"The job never came to '{line.Text} {line.Step}'; it stands at {stage.Job?.Question?.Need}.");
                return;
            case LineKind.Say:
                await person.SayAsync(line.Text).ConfigureAwait(false);
                break;
            case LineKind.Hold:
                await person.HoldAsync(Enum.Parse<Phrase>(line.Text, true)).ConfigureAwait(false);
                break;
            case LineKind.Pass:
                await stage.PassAsync(Ticks.OfSeconds(line.Seconds)).ConfigureAwait(false);
                break;
            case LineKind.Sleep:
                await stage.SleepAsync(Ticks.OfSeconds(line.Seconds)).ConfigureAwait(false);
                break;
            case LineKind.Restart:
                await stage.RestartAsync(Ticks.OfSeconds(line.Seconds)).ConfigureAwait(false);
                break;
            case LineKind.Readings:
                person.Show(line.Readings);
                break;
        }

        if (line.Refusal is { } expected && !_refusals.Any(reason => reason.Contains(expected, StringComparison.OrdinalIgnoreCase)))
        {
            _faults.Add($"'{line.Text}' was not refused with '{expected}'; the refusals were: {string.Join(" / ", _refusals)}.");
        }
    }

    private void Compare()
    {
        var end = stage.Job is { Ended: false, Question: { } question } ? question.Need.Kind : NeedKind.Nothing;
        if (end != script.End)
        {
            _faults.Add($"The job ended at {end}, not at {script.End}.");
        }

        foreach (var (type, expected) in script.Counts.OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            var found = _counts.GetValueOrDefault(type);
            if (found != expected)
            {
                _faults.Add($"{type} was recorded {found} times, not {expected} times.");
            }
        }
    }

    private void Note(JournalEntry entry)
    {
        _counts[entry.Type] = _counts.GetValueOrDefault(entry.Type) + 1;
        if (entry.Type is "step.refused" or "dead.refused")
        {
            _refusals.Add(JsonNode.Parse(entry.Data)!["reason"]!.GetValue<string>());
        }
    }
}
