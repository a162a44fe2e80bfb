using System.Text;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Engine.Codec;
using Companion.Journal.Format;
using Companion.Journal.Proof;
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
        var previous = ChainHash.None;
        foreach (var entry in bench.Journal.Read(Job).Where(entry => EventCodec.Read(entry) is not null))
        {
            var draft = EventCodec.Draft(Job, EventCodec.Read(entry)!, EventCodec.MomentOf(entry));
            var texts = draft.Personal.ToDictionary(text => text.Key, text => PersonalText.Seal(Guid.NewGuid().ToByteArray(), text.Value));
            var made = EntryCodec.Encode(draft, new EntryPlace(tablet, false, entry.Sequence, previous), texts);
            previous = made.Hash;
            body.Write(ExportLine.Of(made).Span);
            body.Write("\n"u8);
        }

        return body.ToArray();
    }
}
