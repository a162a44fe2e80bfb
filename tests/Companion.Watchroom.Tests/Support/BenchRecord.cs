using Companion.Domain.Asking;
using Companion.TestKit;

namespace Companion.Watchroom.Tests.Support;

/// <summary>A job that the real loop recorded, as the lines that a tablet sends.</summary>
public static class BenchRecord
{
    /// <summary>The job's id.</summary>
    public const string Job = "job-1";

    /// <summary>A job with an early claim, a warning in the middle, and a way on to the first dead test.</summary>
    public static async Task<EngineBench> EventfulAsync()
    {
        var bench = await (await new EngineBench().OpenAsync(Job)).UntilAsync(NeedKind.WaitOver);
        await bench.SayAsync(Phrase.ProvedDead);
        await bench.HearAsync("noise", "so dark here", Engine.Ports.HearingOutcome.Unsure);
        await bench.SayAsync(Phrase.Stop);
        await bench.UntilAsync(NeedKind.WaitOver);
        return await bench.UntilAsync(NeedKind.TakeReading);
    }

    /// <summary>Its lines, chained anew under a tablet's name.</summary>
    public static ReadOnlyMemory<byte> Lines(EngineBench bench, Guid tablet)
    {
        using var body = new MemoryStream();
        foreach (var line in RecordedLines.Of(bench.Journal.Read(Job), Job, tablet))
        {
            body.Write(line.Span);
            body.Write("\n"u8);
        }

        return body.ToArray();
    }
}
