namespace Companion.Voice.Ear;

/// <summary>What the network made of an utterance: for every frame the natural logarithm of each symbol's probability.</summary>
public sealed class Posteriors
{
    /// <summary>Wraps frames times 40 values.</summary>
    /// <exception cref="InvalidDataException">The number of values fits no whole number of frames.</exception>
    public Posteriors(float[] values)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (values.Length % Phones.Count != 0)
        {
            throw new InvalidDataException("The network's output is no whole number of frames.");
        }

        Values = values;
        Frames = values.Length / Phones.Count;
        BestSymbol = new int[Frames];
        for (var frame = 0; frame < Frames; frame++)
        {
            var row = Row(frame);
            for (var symbol = 1; symbol < Phones.Count; symbol++)
            {
                BestSymbol[frame] = row[symbol] > row[BestSymbol[frame]] ? symbol : BestSymbol[frame];
            }
        }
    }

    /// <summary>Number of frames.</summary>
    public int Frames { get; }

    /// <summary>The likeliest symbol of every frame: with CTC this is the best path of a free phone loop.</summary>
    internal int[] BestSymbol { get; }

    private float[] Values { get; }

    /// <summary>The values of one frame.</summary>
    public ReadOnlySpan<float> Row(int frame) => Values.AsSpan(frame * Phones.Count, Phones.Count);

    /// <summary>How much less likely a symbol is in a frame than the likeliest one; 0 or less.</summary>
    internal float Deficit(int frame, int symbol)
    {
        var row = Row(frame);
        return row[symbol] - row[BestSymbol[frame]];
    }
}
