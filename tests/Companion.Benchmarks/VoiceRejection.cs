using System.Text.Json.Nodes;
using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Detection;
using Companion.Voice.Ear;

namespace Companion.Benchmarks;

/// <summary>
/// How often speech that is none of ours is taken for a phrase, with the grammar of each step, and how often it passes both stages of a
/// critical confirmation: a phrase, and then "affirm" with the code that was asked for.
/// </summary>
internal sealed class VoiceRejection
{
    private const string AskedCode = "affirm four seven";

    private readonly VoiceEar ear;
    private readonly ISpeechProbability detector;

    internal VoiceRejection(VoiceEar ear, ISpeechProbability detector)
    {
        this.ear = ear;
        this.detector = detector;
    }

    internal JsonArray Run(IReadOnlyList<VoiceClip> clips)
    {
        var foreign = clips.Where(clip => clip.Use is "unrelated" or "reject-word").ToList();
        return [.. new[] { true, false }.Select(tuning => Half(tuning, foreign.Where(clip => clip.IsForTuning == tuning)))];
    }

    private JsonNode Half(bool tuning, IEnumerable<VoiceClip> clips)
    {
        var utterances = clips.SelectMany(clip => Utterances(clip.Decode()).Select(utterance => (clip.Transcript, utterance)))
            .Select(pair => (pair.Transcript, Ratio: SignalToNoise.Estimate(pair.utterance), pair.utterance.CutShort,
                Posteriors: pair.utterance.CutShort ? null : ear.Score(pair.utterance))).ToList();
        var steps = new JsonObject();
        int phrase = 0, code = 0, right = 0, harmless = 0;
        List<bool> phraseAccepted = [.. utterances.Select(_ => false)], codeAccepted = [.. utterances.Select(_ => false)];
        foreach (var (step, phrases) in VoiceGrammars.All)
        {
            var compiled = ear.Compile(phrases);
            var heard = utterances.Select(utterance => utterance.Posteriors is null ? Recognition.Nothing
                : ear.Match(compiled, utterance.Posteriors, utterance.Ratio)).ToList();
            var wrong = Enumerable.Range(0, heard.Count).Where(n => heard[n].Outcome == HearingOutcome.Accepted
                && !Said(utterances[n].Transcript, heard[n].Words)).ToList();
            var loose = wrong.Count(n => heard[n].PhraseId is "stop" or "help");
            harmless += loose;
            foreach (var n in wrong.Where(n => heard[n].PhraseId is not ("stop" or "help")))
            {
                phraseAccepted[n] |= step is not ("code" or "echo");
                codeAccepted[n] |= heard[n].Words == AskedCode;
                code += heard[n].PhraseId == VoiceGrammars.Code ? 1 : 0;
                right += heard[n].Words == AskedCode ? 1 : 0;
                phrase++;
            }

            steps[step] = new JsonObject
            {
                ["wrongaccepts"] = wrong.Count - loose,
                ["upper95percent"] = Percent(UpperBound.Of(wrong.Count - loose, utterances.Count)),
                ["heard"] = new JsonArray([.. wrong.Select(n => (JsonNode)$"{heard[n].Words} <- {utterances[n].Transcript}").Take(12)]),
            };
        }

        // The worst order: any utterance that passes the first stage may be followed by any that passes the second.
        var critical = phraseAccepted.Any(accepted => accepted) ? codeAccepted.Count(accepted => accepted) : 0;
        return new JsonObject
        {
            ["half"] = tuning ? "tuning" : "reporting",
            ["utterances"] = utterances.Count,
            ["wrongaccepts"] = phrase,
            ["wrongcodes"] = code,
            ["wrongaccepts_stop_or_help"] = harmless,
            ["criticalaccepts"] = critical,
            ["critical_upper95percent"] = Percent(UpperBound.Of(right, utterances.Count)),
            ["steps"] = steps,
        };
    }

    private IEnumerable<Utterance> Utterances(short[] clip)
    {
        detector.Reset();
        var segmenter = new UtteranceSegmenter(detector);
        var padded = new VoiceNoise([]).Mix(clip, "clean", 0, 1);
        foreach (var frame in VoiceEar.Floats(padded).Chunk(AudioFormat.FrameSamples).Where(frame => frame.Length == AudioFormat.FrameSamples))
        {
            if (segmenter.Take(frame) is { } utterance)
            {
                yield return utterance;
            }
        }

        if (segmenter.Finish() is { } last)
        {
            yield return last;
        }
    }

    // Command words occur in running speech; those are no false accepts.
    private static bool Said(string transcript, string words) => $" {transcript} ".Contains($" {words} ", StringComparison.Ordinal);

    private static double Percent(double share) => Math.Round(100 * share, 3);
}
