namespace Companion.Benchmarks;

/// <summary>Times of one kind of operation. One thread.</summary>
internal sealed class Times
{
    private readonly List<double> microseconds = [];

    /// <summary>How many.</summary>
    public int Count => microseconds.Count;

    /// <summary>The mean in microseconds.</summary>
    public double Mean => microseconds.Average();

    public static Times Of(IEnumerable<TimeSpan> times)
    {
        var all = new Times();
        foreach (var time in times)
        {
            all.Add(time);
        }

        return all;
    }

    public void Add(TimeSpan time) => microseconds.Add(time.TotalMicroseconds);

    /// <summary>Nearest-rank percentile in microseconds.</summary>
    public double Percentile(int percent)
    {
        var sorted = microseconds.Order().ToList();
        return sorted[Math.Max(0, (int)Math.Ceiling(percent / 100.0 * sorted.Count) - 1)];
    }

    /// <summary>How many times as long as a peer's, at a percentile.</summary>
    public double Ratio(Times peer, int percent) => Math.Round(Percentile(percent) / peer.Percentile(percent), 2);

    /// <summary>The figures for the report, of operations that take microseconds.</summary>
    public object Summary() => new
    {
        p50us = Math.Round(Percentile(50), 1),
        p99us = Math.Round(Percentile(99), 1),
        maxus = Math.Round(Percentile(100), 1),
        persecond = Math.Round(1_000_000 / Mean, 1),
    };

    /// <summary>The figures for the report, of what takes milliseconds; null when there are none.</summary>
    public object? Milliseconds() => Count == 0 ? null : new
    {
        count = Count,
        p50ms = Math.Round(Percentile(50) / 1000, 2),
        p99ms = Math.Round(Percentile(99) / 1000, 2),
        maxms = Math.Round(Percentile(100) / 1000, 2),
    };
}
