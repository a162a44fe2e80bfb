using System.Text.Json;
using System.Text.Json.Nodes;
using Companion.Voice.Detection;

namespace Companion.Benchmarks;

/// <summary>The area "voice": the ear on human speech that it was not trained on, beside a packaged recogniser. Some ten minutes on one core.</summary>
public static class VoiceBenchmark
{
    private const string DataVariable = "COMPANION_SPEECH_DATA";

    // Left out of the network's training (assets/ear/model-card.md).
    private static readonly string[] UnseenNoise =
    [
        "blanket/city", "blanket/wind", "chainsaw_4-149294", "rain_4-166661", "vehicle_motor_idle", "compressor_motor_01", "rain_heavy_01",
        "vehicle_horn_01", "bg_noise3", "bg_noise7",
    ];

    /// <summary>Writes one JSON object. Without data or model it holds the reason and no figures.</summary>
    public static void Run(TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(output);
        var result = Figures();
        output.WriteLine(result.ToJsonString(new JsonSerializerOptions { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }));
    }

    private static JsonObject Figures()
    {
        var result = new JsonObject { ["area"] = "voice" };
        var clips = VoiceClip.Load(Environment.GetEnvironmentVariable(DataVariable));
        if (clips is null)
        {
            result["absent"] = $"{DataVariable} does not name a folder with manifest.tsv: no human speech to measure on.";
            return result;
        }

        var ear = VoiceEar.TryLoad(Assets(), out var reason);
        using var detector = ear is null ? null : SileroDetector.TryLoad(Path.Combine(Assets(), "ear"), out reason);
        if (ear is null || detector is null)
        {
            result["absent"] = reason;
            return result;
        }

        Console.Error.WriteLine("latency ...");
        result["latency"] = new VoiceLatency(ear, detector).Run(clips);
        Console.Error.WriteLine("rejection ...");
        result["rejection"] = new VoiceRejection(ear, detector).Run(clips);
        Console.Error.WriteLine("closed sets ...");
        var noise = new VoiceNoise([.. clips.Where(clip => clip.Use == "noise" && UnseenNoise.Any(clip.Path.Contains)).Select(clip => clip.Decode())]);
        result["closedsets"] = new VoiceClosedSets(ear, noise).Run(clips);
        result["remark"] = "Clips are split by a hash of the speaker: thresholds were tuned on one half, figures are of the other (rejection: both). "
            + "fsdd has 3 speakers and is reported whole. Speakers and noise recordings are none the network was trained on (assets/ear/model-card.md).";
        return result;
    }

    private static string Assets()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            var assets = Path.Combine(folder.FullName, "assets");
            if (Directory.Exists(Path.Combine(assets, "lexicon")))
            {
                return assets;
            }
        }

        return "assets";
    }
}
