using System.Text.Json.Nodes;
using Companion.Engine.Ports;

namespace Companion.Benchmarks;

/// <summary>Share of clips whose phrase is found among closed sets of candidates, clean and in noise, beside the peer on the same sound.</summary>
internal sealed class VoiceClosedSets
{
    private const int MostClips = 100;
    private const string Words = "yes no stop go up down left right on off zero one two three four five six seven eight nine";

    private static readonly (string Kind, int Decibels)[] Conditions =
        [("clean", 0), ("real", 10), ("real", 5), ("real", 0), ("pink", 10), ("pink", 5), ("pink", 0)];

    private readonly VoiceEar ear;
    private readonly VoiceNoise noise;

    internal VoiceClosedSets(VoiceEar ear, VoiceNoise noise)
    {
        this.ear = ear;
        this.noise = noise;
    }

    internal JsonArray Run(IReadOnlyList<VoiceClip> clips)
    {
        var words = Words.Split(' ');
        var reported = clips.Where(clip => !clip.IsForTuning).ToList();
        var strings = reported.Where(clip => clip.Set == "an4" && clip.Use is "command" or "command+number" or "number").ToList();
        return
        [
            .. Set("20 words", reported.Where(clip => clip.Set == "speech_commands" && words.Contains(clip.Transcript)), words),
            .. Set("10 digits, 8 kHz", clips.Where(clip => clip.Set == "fsdd"), words[10..]),
            .. Set("number strings and commands", strings, [.. strings.Select(clip => clip.Transcript).Distinct().Order()]),
        ];
    }

    private IEnumerable<JsonNode> Set(string name, IEnumerable<VoiceClip> all, IReadOnlyList<string> candidates)
    {
        var clips = VoiceClip.Some(all, MostClips).Select(clip => (clip.Transcript, clip.Path, Sound: clip.Decode())).ToList();
        var phrases = ear.Compile([.. candidates.Take(Voice.Ear.PhraseCompiler.MaximumPhrases).Select(text => new PhrasePattern(text, text))]);
        var peer = PeerRecogniser.TryLoad(candidates, out var reason);
        foreach (var (kind, decibels) in Conditions)
        {
            int ours = 0, theirs = 0, errors = 0, spoken = 0;
            foreach (var (transcript, path, sound) in clips)
            {
                var mixed = noise.Mix(sound, kind, decibels, (int)(VoiceClip.Hash(path) & 0xffff));
                var heard = VoiceEar.Best(phrases, ear.Score(mixed));
                var (wrong, said) = WordErrorRate.Count(transcript, heard);
                (errors, spoken) = (errors + wrong, spoken + said);
                ours += heard == transcript ? 1 : 0;
                theirs += peer?.Recognise(mixed) == transcript ? 1 : 0;
            }

            yield return new JsonObject
            {
                ["set"] = name,
                ["noise"] = kind == "clean" ? kind : $"{kind} {decibels} dB",
                ["clips"] = clips.Count,
                ["candidates"] = phrases.Count,
                ["rightpercent"] = Percent(ours, clips.Count),
                ["worderrorpercent"] = Percent(errors, spoken),
                ["peer"] = peer is null ? reason : "pocketsphinx 0.8+5prealpha, JSGF of the same candidates",
                ["peerrightpercent"] = peer is null ? null : Percent(theirs, clips.Count),
            };
        }
    }

    private static double Percent(int part, int whole) => Math.Round(100.0 * part / Math.Max(1, whole), 1);
}
