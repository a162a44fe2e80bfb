namespace Companion.Voice.Ear;

/// <summary>A radix-2 fast Fourier transform of a fixed length, in place. One instance may serve many threads.</summary>
public sealed class Fourier
{
    private readonly double[] cosines;
    private readonly double[] sines;
    private readonly int[] reversed;

    /// <summary>Prepares the tables.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The length is no power of two.</exception>
    public Fourier(int length)
    {
        if (length < 2 || (length & (length - 1)) != 0)
        {
            throw new ArgumentOutOfRangeException(nameof(length), length, "The length must be a power of two.");
        }

        cosines = new double[length / 2];
        sines = new double[length / 2];
        for (var n = 0; n < length / 2; n++)
        {
            (sines[n], cosines[n]) = Math.SinCos(-2 * Math.PI * n / length);
        }

        reversed = new int[length];
        for (int n = 0, bits = int.Log2(length); n < length; n++)
        {
            for (var bit = 0; bit < bits; bit++)
            {
                reversed[n] |= ((n >> bit) & 1) << (bits - 1 - bit);
            }
        }
    }

    /// <summary>Transforms the numbers given by their real and imaginary parts.</summary>
    public void Transform(Span<double> real, Span<double> imaginary)
    {
        Reorder(real, imaginary);
        for (var size = 2; size <= reversed.Length; size *= 2)
        {
            var half = size / 2;
            var stride = reversed.Length / size;
            for (var start = 0; start < reversed.Length; start += size)
            {
                for (var n = 0; n < half; n++)
                {
                    Butterfly(real, imaginary, start + n, start + n + half, n * stride);
                }
            }
        }
    }

    private void Reorder(Span<double> real, Span<double> imaginary)
    {
        for (var n = 0; n < reversed.Length; n++)
        {
            var other = reversed[n];
            if (other > n)
            {
                (real[n], real[other]) = (real[other], real[n]);
                (imaginary[n], imaginary[other]) = (imaginary[other], imaginary[n]);
            }
        }
    }

    private void Butterfly(Span<double> real, Span<double> imaginary, int upper, int lower, int turn)
    {
        var turnedReal = (real[lower] * cosines[turn]) - (imaginary[lower] * sines[turn]);
        var turnedImaginary = (real[lower] * sines[turn]) + (imaginary[lower] * cosines[turn]);
        real[lower] = real[upper] - turnedReal;
        imaginary[lower] = imaginary[upper] - turnedImaginary;
        real[upper] += turnedReal;
        imaginary[upper] += turnedImaginary;
    }
}
