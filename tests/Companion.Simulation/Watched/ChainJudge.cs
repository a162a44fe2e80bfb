using Companion.Contracts.Uplink;
using Companion.TestKit.Judging;
using Companion.Watchroom.Receiving;

namespace Companion.Simulation.Watched;

/// <summary>Holds what the watch room has of each journal against the journal itself, byte for byte, and against every word that it gave.</summary>
internal sealed class ChainJudge
{
    private readonly Dictionary<(string Device, string Chain), long> _promised = [];

    /// <summary>The watch room said that it holds a chain up to here.</summary>
    public void Promised(string device, BatchAnswer answer) =>
        _promised[(device, answer.Chain)] = Math.Max(answer.Sequence, _promised.GetValueOrDefault((device, answer.Chain)));

    /// <summary>Looks at everything that is held of a tablet.</summary>
    public void Look(LinkedTablet tablet, JournalReceiver receiver)
    {
        var device = tablet.Device;
        var positions = tablet.Positions();
        foreach (var chain in receiver.Chains(device))
        {
            Oracle.Claim(tablet.Chains.ContainsKey(chain.Chain), $"prefix: {device} never had a chain {chain.Chain}");
            Oracle.Claim(!chain.Forked, $"prefix: {device} {chain.Chain} is said to be forked, and is not");
        }

        foreach (var (chain, lines) in tablet.Chains)
        {
            var held = receiver.Read(device, chain).ToList();
            if (held.Count > lines.Count)
            {
                tablet.Refresh();
            }

            Oracle.Claim(held.Count <= lines.Count, $"prefix: {device} {chain} is held with {held.Count} entries, the tablet has {lines.Count}");
            for (var at = 0; at < held.Count; at++)
            {
                Oracle.Claim(held[at].Span.SequenceEqual(lines[at].Span), $"prefix: {device} {chain} is held with another entry {at + 1}");
            }

            Oracle.Claim(_promised.GetValueOrDefault((device, chain)) <= held.Count, $"prefix: {device} {chain} was acknowledged beyond the {held.Count} entries that are held");
            Oracle.Claim(positions.GetValueOrDefault(chain) <= held.Count, $"prefix: the outbox of {device} counts {positions.GetValueOrDefault(chain)} entries of {chain} as held, {held.Count} are");
        }
    }

    /// <summary>True when nothing is left to send.</summary>
    public static bool HasAll(LinkedTablet tablet, JournalReceiver receiver) =>
        tablet.Chains.All(chain => receiver.Read(tablet.Device, chain.Key).Count() == chain.Value.Count);
}
