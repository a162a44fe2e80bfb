namespace Companion.Voice.Ear;

/// <summary>
/// All ways of saying a pattern as a graph of phones: every node is one phone at one place of the pattern. The nodes that may come just
/// before it form its junction; the words of a digit loop share one. Immutable; safe for many threads.
/// </summary>
public sealed class PhoneGraph
{
    internal PhoneGraph(PhoneNode[] nodes, int[][] junctions, bool[] mayStart, int[] finals)
    {
        Nodes = nodes;
        Junctions = junctions;
        MayStart = mayStart;
        Finals = finals;
    }

    /// <summary>Number of phones in the graph.</summary>
    public int Count => Nodes.Length;

    internal PhoneNode[] Nodes { get; }

    internal int[][] Junctions { get; }

    internal bool[] MayStart { get; }

    internal int[] Finals { get; }
}
