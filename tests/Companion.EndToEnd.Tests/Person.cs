using System.Collections.Immutable;
using System.Diagnostics;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Tablet.Rehearsing;
using Companion.Voice.Audio;
using Companion.Voice.Speaking;

namespace Companion.EndToEnd.Tests;

/// <summary>A technician who speaks into the virtual microphone and answers what the journal says is open.</summary>
internal sealed class Person(string store, string folder, string server)
{
    private static readonly ImmutableDictionary<string, string> Shown = new Dictionary<string, string>
    {
        ["sheet"] = "1", ["source"] = "230", ["rails"] = "3", ["positive"] = "1", ["negative"] = "2",
    }.ToImmutableDictionary();

    private readonly EspeakSynthesiser _voice = new("en-gb-scotland", 140);

    /// <summary>Answers given.</summary>
    public int Spoken { get; private set; }

    /// <summary>Answers until this kind of question is open; throws when it takes too long.</summary>
    public async Task WorkUntilAsync(NeedKind kind, TimeSpan patience)
    {
        var begun = Stopwatch.StartNew();
        while (begun.Elapsed < patience)
        {
            var entries = LiveJournal.Entries(store);
            var job = LiveJournal.JobOf(entries);
            if (job?.Question?.Need.Kind == kind)
            {
                return;
            }

            if (job?.Question is { } question && question.Need.Kind != NeedKind.WaitOver && HasHeard(entries))
            {
                await SayAsync(Words(job, question));
            }

            await Task.Delay(300);
        }

        Assert.Fail($"The job never came to {kind}; it stands at {LiveJournal.JobOf(LiveJournal.Entries(store))?.Question?.Need}.");
    }

    /// <summary>Says words when the Companion is silent, again if they were not heard, until an entry of this type is journalled.</summary>
    public async Task SayUntilAsync(string words, string type)
    {
        for (var turn = 0; turn < 60 && !LiveJournal.Entries(store).Any(entry => entry.Type == type); turn++)
        {
            if (HasHeard(LiveJournal.Entries(store)))
            {
                await SayAsync(words);
            }

            await Task.Delay(300);
        }
    }

    /// <summary>Says words into the microphone and gives the ear time to hear them.</summary>
    public async Task SayAsync(string words)
    {
        Spoken++;
        var file = Path.Combine(folder, "says.wav");
        WavFile.Write(file, [.. _voice.Speak(words), .. new short[AudioFormat.SampleRate / 2]]);
        using var player = Process.Start("paplay", ["-s", server, "-d", "micsink", file]);
        await player.WaitForExitAsync();
        await Task.Delay(1200);
    }

    private static string Words(Job job, Question question)
    {
        var right = RightAnswers.For(job, question, Shown);
        return question.Echo is { } echo && !right.Matches(echo) ? "wrong"
            : question.Code is { } code ? $"affirm {Companion.Domain.Speaking.SpokenNumber.Say(code)}"
            : right.Words;
    }

    /// <summary>True once the present question, echo or refusal was spoken to its end and nothing has followed for a moment.</summary>
    private static bool HasHeard(IReadOnlyList<JournalEntry> entries)
    {
        var asked = entries.LastOrDefault(entry => entry.Type is "question.asked" or "code.asked" or "answer.echoed" or "answer.corrected");
        var spoken = entries.LastOrDefault(entry => entry.Type is "prompt.spoken" or "prompt.failed");
        return asked is not null && spoken is not null && spoken.Sequence > asked.Sequence
            && DateTimeOffset.Now - entries[^1].Time > TimeSpan.FromMilliseconds(900);
    }
}
