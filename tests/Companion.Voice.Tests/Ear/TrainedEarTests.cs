using Companion.Domain.Asking;
using Companion.Domain.Speaking;
using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Tests.Support;
using Xunit.Abstractions;

namespace Companion.Voice.Tests.Ear;

/// <summary>The network as shipped, end to end: sound through detector, features, network and decoder, in voices it was not trained on.</summary>
public sealed class TrainedEarTests(ITestOutputHelper output)
{
    private const double LeastShareRight = 0.9;

    private static readonly string[] Said =
    [
        "affirm four seven", "affirm zero three", "affirm eight one", "four zero zero volts", "one two decimal three", "below five volts",
        "proved dead", "clear to work", "fitted lock one two", "i am all right", "help me", "wrong", "stop",
    ];

    private static readonly (string Name, Func<string, short[]> Speak)[] Voices =
    [
        ("espeak-ng en-gb-scotland", text => Sounds.Espeak("en-gb-scotland", text)),
        ("espeak-ng en-gb-x-rp", text => Sounds.Espeak("en-gb-x-rp", text)),
        ("espeak-ng en-us", text => Sounds.Espeak("en-us", text)),
        ("flite awb", text => Sounds.Flite("awb", text)),
    ];

    // More than any step has open at once, but not several kinds of reading side by side.
    private static readonly IReadOnlyList<PhrasePattern> AtOneStep =
        [.. ProductPhrases.All.Where(phrase => phrase.Id is not ("millivolts" or "kilovolts" or "amps" or "ohms" or "tag"))];

    [Fact]
    public void Phrases_in_voices_that_were_held_out_are_heard_and_never_taken_for_others()
    {
        int right = 0, wrong = 0;
        foreach (var (name, speak) in Voices)
        {
            var heard = Hear(Said.Select(speak), AtOneStep);
            Assert.Equal(Said.Length, heard.Count);
            for (var n = 0; n < Said.Length; n++)
            {
                var accepted = heard[n].Outcome == HearingOutcome.Accepted;
                right += accepted && heard[n].Words == Said[n] ? 1 : 0;
                wrong += accepted && heard[n].Words != Said[n] ? 1 : 0;
                if (!accepted || heard[n].Words != Said[n])
                {
                    output.WriteLine($"{name}: \"{Said[n]}\" heard as {heard[n].Outcome} \"{heard[n].Words}\" {heard[n].Confidence}");
                }
            }
        }

        output.WriteLine($"{right} right, {wrong} wrong of {Said.Length * Voices.Length}");
        Assert.True(right >= LeastShareRight * Said.Length * Voices.Length, $"only {right} right");
        Assert.True(wrong <= 2, $"{wrong} taken for another phrase");
    }

    /// <summary>Words that the network was never trained on, beside every phrase that may be said at the same question.</summary>
    [Fact]
    public void Phrases_around_locks_people_and_the_way_back_are_heard_and_never_taken_for_others()
    {
        (NeedKind Need, string[] Said)[] questions =
        [
            (NeedKind.CountTools, ["checked nine", "checked one two"]),
            (NeedKind.Working, ["done work", "off work", "hand over other lock", "other one two work", "other three one take over"]),
            (NeedKind.OpenPoint, ["other three one ready", "other three one left"]),
            (NeedKind.RemoveLock, ["removed lock two one", "by procedure seven seven"]),
            (NeedKind.Uncover, ["uncovered"]),
            (NeedKind.ClosePoint, ["closed"]),
        ];
        int right = 0, wrong = 0, all = 0;
        foreach (var (need, said) in questions)
        {
            var phrases = PhraseBook.For(new Question(1, new Need(need, string.Empty), "boot", Domain.Time.Ticks.Zero))
                .Select(form => new PhrasePattern(form.Id, form.Pattern, false)).ToList();
            foreach (var (name, speak) in Voices)
            {
                var heard = Hear(said.Select(speak), phrases);
                for (var n = 0; n < said.Length; n++)
                {
                    var accepted = heard[n].Outcome == HearingOutcome.Accepted;
                    all++;
                    right += accepted && heard[n].Words == said[n] ? 1 : 0;
                    wrong += accepted && heard[n].Words != said[n] ? 1 : 0;
                    output.WriteLine($"{name}: \"{said[n]}\" heard as {heard[n].Outcome} \"{heard[n].Words}\" {heard[n].Confidence}");
                }
            }
        }

        output.WriteLine($"{right} right, {wrong} wrong of {all}");
        Assert.True(right >= LeastShareRight * all, $"only {right} of {all} right");
        Assert.True(wrong <= 2, $"{wrong} taken for another phrase");
    }

    [Fact]
    public void Sentences_and_near_misses_are_not_accepted()
    {
        string[] foreign =
        [
            "the weather is rather wet today", "could you bring me the other bag", "confirm forty seven", "insulated", "we should be there in ten minutes",
            "i think the kettle is on", "it was approved by the manager", "what time do you call this", "the traffic is terrible",
        ];
        var heard = Hear(foreign.Select(text => Sounds.Espeak("en-gb", text)), AtOneStep);
        foreach (var hearing in heard.Where(hearing => hearing.Outcome == HearingOutcome.Accepted))
        {
            output.WriteLine($"accepted {hearing.Words} {hearing.Confidence}");
        }

        Assert.DoesNotContain(heard, hearing => hearing.Outcome == HearingOutcome.Accepted && hearing.PhraseId is not ("stop" or "help"));
    }

    private static IReadOnlyList<Hearing> Hear(IEnumerable<short[]> speech, IReadOnlyList<PhrasePattern> phrases)
    {
        var clock = new ManualClock();
        var inbox = new RecordingInbox();
        var microphone = new MemoryMicrophone(clock, endless: false);
        var pause = Sounds.Noise(0.8, 0.0005);
        microphone.Say(pause);
        foreach (var piece in speech)
        {
            microphone.Say(Sounds.Mix(piece, Sounds.Noise(piece.Length / 16_000.0, 0.0005)));
            microphone.Say(pause);
        }

        using var voice = VoiceKit.Start(
            new VoiceOptions(Assets.Folder, microphone, new SilentLoudspeaker(clock), new NoPace()) { Recorded = true }, clock, inbox);
        voice.Ear.Listen(new ListeningFor(1, phrases));
        Assert.True(voice.WaitForEnd(TimeSpan.FromSeconds(40)));
        return inbox.Hearings;
    }
}
