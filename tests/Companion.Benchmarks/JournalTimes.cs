namespace Companion.Benchmarks;

/// <summary>Times of one kind of operation. One thread.</summary>
internal sealed class JournalTimes(int count)
{
    private readonly List<double> microseconds = new(count);

    public void Add(TimeSpan time) => microseconds.Add(time.TotalMicroseconds);

    /// <summary>Nearest-rank percentile in microseconds.</summary>
    public double Percentile(int percent)
    {
        var sorted = microseconds.Order().ToList();
        return sorted[Math.Max(0, (int)Math.Ceiling(percent / 100.0 * sorted.Count) - 1)];
    }

    /// <summary>The mean in microseconds.</summary>
    public double Mean => microseconds.Average();

    /// <summary>The figures for the report.</summary>
    public object Summary() => new
    {
        p50us = Math.Round(Percentile(50), 1),
        p99us = Math.Round(Percentile(99), 1),
        maxus = Math.Round(microseconds.Max(), 1),
        persecond = Math.Round(1_000_000 / Mean, 1),
    };
}
