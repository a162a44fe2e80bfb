using Companion.Contracts;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.TestKit;

namespace Companion.Review.Tests;

/// <summary>Records for tests: of events at chosen seconds, or of a job on the bench.</summary>
internal static class RecordedJobs
{
    /// <summary>A record of events, each at its second.</summary>
    public static RecordedJob Of(params (double Second, JobEvent Event)[] events) => RecordedJob.Of("j", events.Select((one, index) =>
        Entry(index + 1, one.Event, new Moment(DemoTime.Start.AddSeconds(one.Second), "boot-1", Ticks.OfMilliseconds((long)(one.Second * 1000)), Ticks.Zero))));

    /// <summary>A record of what a bench recorded.</summary>
    public static RecordedJob Of(JobBench bench, string chain = "job-1") =>
        RecordedJob.Of(chain, bench.Log.Select(recorded => Entry(recorded.Sequence, recorded.Event, recorded.Moment)));

    private static JournalEntry Entry(long sequence, JobEvent happened, Moment moment)
    {
        var draft = EventCodec.Draft("j", happened, moment);
        var data = (System.Text.Json.Nodes.JsonObject)System.Text.Json.Nodes.JsonNode.Parse(draft.Data)!;
        foreach (var name in draft.Personal.Keys)
        {
            data[name] = "sealed";
        }

        return new JournalEntry(
            "j", sequence, draft.Type, draft.Time, draft.BootId, draft.Uptime, false, data.ToJsonString(), $"h{sequence - 1}", $"h{sequence}",
            ReadOnlyMemory<byte>.Empty, draft.Personal.ToDictionary(text => text.Key, text => new SealedText("salt", text.Value)));
    }
}
