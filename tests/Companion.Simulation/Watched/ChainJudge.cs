using Companion.Contracts.Uplink;
using Companion.TestKit.Judging;
using Companion.Watchroom.Receiving;

namespace Companion.Simulation.Watched;

/// <summary>
/// Holds what the watch room has of each journal against the journal itself, byte for byte, and against every word that it gave. Of a tablet whose store was
/// put back there are two stories: the watch room goes on with one, keeps what it was sent of the other beside it, says so, and never writes over either.
/// </summary>
internal sealed class ChainJudge
{
    private readonly Dictionary<(string Device, string Chain), long> _promised = [];
    private readonly Dictionary<(string Device, string Chain), List<ReadOnlyMemory<byte>>> _held = [];

    /// <summary>The watch room said that it holds a chain up to here.</summary>
    public void Promised(string device, BatchAnswer answer) =>
        _promised[(device, answer.Chain)] = Math.Max(answer.Sequence, _promised.GetValueOrDefault((device, answer.Chain)));

    /// <summary>Looks at everything that is held of a tablet.</summary>
    public void Look(LinkedTablet tablet, JournalReceiver receiver)
    {
        tablet.Refresh();
        foreach (var chain in receiver.Chains(tablet.Device))
        {
            Oracle.Claim(Stories(tablet, chain.Chain).Any(), $"prefix: {tablet.Device} never had a chain {chain.Chain}");
            Oracle.Claim(
                chain.Forked == receiver.ReadForks(tablet.Device, chain.Chain).Any() && (!chain.Forked || Stories(tablet, chain.Chain).Count() == 2),
                $"prefix: {tablet.Device} {chain.Chain} is said to be forked and is not, or is and is not said to be");
        }

        foreach (var chain in tablet.Chains.Keys.Union(tablet.Former.Keys))
        {
            Look(tablet, chain, receiver);
        }
    }

    /// <summary>True when nothing is left to send: all is held, or what does not fit the other story is kept beside it and flagged.</summary>
    public static bool HasAll(LinkedTablet tablet, JournalReceiver receiver) => tablet.Chains.All(chain =>
    {
        var held = receiver.Read(tablet.Device, chain.Key).ToList();
        var fits = held.Zip(chain.Value).TakeWhile(pair => pair.First.Span.SequenceEqual(pair.Second.Span)).Count();
        return fits == chain.Value.Count
            || receiver.ReadForks(tablet.Device, chain.Key).Any(line => line.Span.SequenceEqual(chain.Value[fits].Span));
    });

    private void Look(LinkedTablet tablet, string chain, JournalReceiver receiver)
    {
        var device = tablet.Device;
        var held = receiver.Read(device, chain).ToList();
        var stories = Stories(tablet, chain).ToList();
        Oracle.Claim(stories.Exists(story => IsBegin(held, story)), $"prefix: {device} {chain} is held with {held.Count} entries, which are no beginning of the tablet's {stories[0].Count}");
        var before = _held.GetValueOrDefault((device, chain), []);
        Oracle.Claim(IsBegin(before, held), $"prefix: of {device} {chain} {before.Count} entries were acknowledged, and they are lost or written over");
        var promised = _promised.GetValueOrDefault((device, chain));
        Oracle.Claim(promised <= held.Count, $"prefix: {device} {chain} was acknowledged beyond the {held.Count} entries that are held");
        _held[(device, chain)] = held[..(int)promised];
        Oracle.Claim(
            receiver.ReadForks(device, chain).All(line => stories.Exists(story => story.Any(one => one.Span.SequenceEqual(line.Span)))),
            $"prefix: of {device} {chain} something is kept beside it that the tablet never had");
        var position = tablet.Positions().GetValueOrDefault(chain);
        Oracle.Claim(position <= held.Count, $"prefix: the outbox of {device} counts {position} entries of {chain} as held, {held.Count} are");
    }

    private static IEnumerable<IReadOnlyList<ReadOnlyMemory<byte>>> Stories(LinkedTablet tablet, string chain)
    {
        if (tablet.Chains.TryGetValue(chain, out var now))
        {
            yield return now;
        }

        if (tablet.Former.TryGetValue(chain, out var former))
        {
            yield return former;
        }
    }

    private static bool IsBegin(IReadOnlyList<ReadOnlyMemory<byte>> some, IReadOnlyList<ReadOnlyMemory<byte>> all) =>
        some.Count <= all.Count && some.Zip(all).All(pair => pair.First.Span.SequenceEqual(pair.Second.Span));
}
