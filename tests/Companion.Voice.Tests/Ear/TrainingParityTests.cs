using System.Globalization;
using Companion.Voice.Ear;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Ear;

/// <summary>The features and the network give here what they gave where the network was trained (assets/ear/check, written by the training scripts).</summary>
public sealed class TrainingParityTests
{
    [Fact]
    public void Features_and_network_agree_with_the_training_scripts()
    {
        var signal = CheckSignal();
        var features = new FeatureExtractor().Extract(signal);
        using var model = OnnxAcousticModel.TryLoad(Assets.Ear, out var reason);
        Assert.True(model is not null, reason);
        var posteriors = model.Score(features);
        var lines = File.ReadLines(Path.Combine(Assets.Ear, "check", "ear-check.tsv")).Where(line => !line.StartsWith('#')).ToList();
        Assert.True(lines.Count > 50);
        foreach (var parts in lines.Select(line => line.Split('\t')))
        {
            var at = int.Parse(parts[1], CultureInfo.InvariantCulture);
            var value = float.Parse(parts[^1], CultureInfo.InvariantCulture);
            switch (parts[0])
            {
                case "sample":
                    Assert.Equal(value, signal[at], 6);
                    break;
                case "mel":
                    Assert.Equal(value, features.Values[(at * FeatureExtractor.Bands) + int.Parse(parts[2], CultureInfo.InvariantCulture)], 1e-3);
                    break;
                case "best":
                    Assert.Equal((int)value, Best(posteriors.Row(at)));
                    break;
                default:
                    Assert.Equal("logprob", parts[0]);
                    Assert.Equal(value, posteriors.Row(at)[int.Parse(parts[2], CultureInfo.InvariantCulture)], 0.02);
                    break;
            }
        }
    }

    private static int Best(ReadOnlySpan<float> row)
    {
        var best = 0;
        for (var n = 1; n < row.Length; n++)
        {
            best = row[n] > row[best] ? n : best;
        }

        return best;
    }

    // The formula at the top of ear-check.tsv.
    private static float[] CheckSignal()
    {
        var signal = new float[16_000];
        uint state = 12_345;
        for (var n = 0; n < signal.Length; n++)
        {
            state = unchecked((1_664_525 * state) + 1_013_904_223);
            var t = n / 16_000.0;
            var envelope = 0.5 - (0.5 * Math.Cos(2 * Math.PI * 3 * t));
            signal[n] = (float)((0.2 * Math.Sin(2 * Math.PI * ((200 * t) + (1500 * t * t))) * envelope)
                + (0.1 * Math.Sin(2 * Math.PI * 440 * t)) + (0.05 * ((state / 2147483648.0) - 1)));
        }

        return signal;
    }
}
