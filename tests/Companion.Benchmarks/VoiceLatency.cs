using System.Diagnostics;
using System.Text.Json.Nodes;
using Companion.Voice.Audio;
using Companion.Voice.Detection;

namespace Companion.Benchmarks;

/// <summary>How long after the last speech the hearing is there (by sample count and measured work), and what the ear costs.</summary>
internal sealed class VoiceLatency
{
    private readonly VoiceEar ear;
    private readonly ISpeechProbability detector;

    internal VoiceLatency(VoiceEar ear, ISpeechProbability detector)
    {
        this.ear = ear;
        this.detector = detector;
    }

    internal JsonObject Run(IReadOnlyList<VoiceClip> clips)
    {
        var phrases = ear.Compile(VoiceGrammars.All.Single(step => step.Step == "reading").Phrases);
        List<double> waits = [], work = [];
        using var process = Process.GetCurrentProcess();
        var cpuBefore = process.TotalProcessorTime;
        double seconds = 0;
        foreach (var clip in VoiceClip.Some(clips.Where(clip => clip.Set is "speech_commands" or "an4" && clip.Use != "reject-word"), 80))
        {
            detector.Reset();
            var segmenter = new UtteranceSegmenter(detector);
            var sound = new VoiceNoise([]).Mix([.. clip.Decode(), .. new short[AudioFormat.SampleRate / 2]], "clean", 0, 1);
            foreach (var frame in VoiceEar.Floats(sound).Chunk(AudioFormat.FrameSamples).Where(frame => frame.Length == AudioFormat.FrameSamples))
            {
                if (segmenter.Take(frame) is { } utterance)
                {
                    var watch = Stopwatch.StartNew();
                    _ = ear.Recogniser.Recognise(utterance, phrases);
                    work.Add(watch.Elapsed.TotalMilliseconds);
                    waits.Add(AudioFormat.Length(segmenter.Position - utterance.End).TotalMilliseconds + work[^1]);
                }
            }

            seconds += AudioFormat.Length(sound.Length).TotalSeconds;
        }

        process.Refresh();
        return new JsonObject
        {
            ["utterances"] = waits.Count,
            ["endofspeechtohearing_ms_p50"] = At(waits, 0.5),
            ["endofspeechtohearing_ms_p95"] = At(waits, 0.95),
            ["recognition_ms_p50"] = At(work, 0.5),
            ["recognition_ms_p95"] = At(work, 0.95),
            ["cpu_percent_of_a_core"] = Math.Round(100 * (process.TotalProcessorTime - cpuBefore).TotalSeconds / Math.Max(1, seconds), 1),
            ["memory_mb"] = process.WorkingSet64 / (1024 * 1024),
        };
    }

    private static double? At(List<double> values, double share) =>
        values.Count == 0 ? null : Math.Round(values.Order().ElementAt((int)(share * (values.Count - 1))), 1);
}
