namespace Companion.Voice.Ear;

/// <summary>
/// Finds the likeliest way through a phone graph (Viterbi) under the rules of connectionist temporal classification: a phone may last
/// several frames, blanks may stand between phones, and two equal phones in a row need a blank between them. Static; safe for many threads.
/// </summary>
public static class CtcDecoder
{
    // State 2n is node n sounding, 2n+1 the blank after it, and the last state the blank before everything.

    /// <summary>The log-likelihood of the best path; minus infinity when the utterance is too short for any.</summary>
    public static double Score(PhoneGraph graph, Posteriors posteriors)
    {
        ArgumentNullException.ThrowIfNull(graph);
        ArgumentNullException.ThrowIfNull(posteriors);
        if (posteriors.Frames == 0 || graph.Count == 0)
        {
            return double.NegativeInfinity;
        }

        var scores = Forward(graph, posteriors, [], (2 * graph.Count) + 1);
        return scores[BestFinal(graph, scores)];
    }

    /// <summary>The best path with its words; null when the utterance is too short for any.</summary>
    public static GraphPath? Decode(PhoneGraph graph, Posteriors posteriors)
    {
        ArgumentNullException.ThrowIfNull(graph);
        ArgumentNullException.ThrowIfNull(posteriors);
        if (posteriors.Frames == 0 || graph.Count == 0)
        {
            return null;
        }

        var states = (2 * graph.Count) + 1;
        var cameFrom = new int[posteriors.Frames * states];
        var scores = Forward(graph, posteriors, cameFrom, states);
        var best = BestFinal(graph, scores);
        return float.IsNegativeInfinity(scores[best]) ? null : Trace(graph, posteriors, cameFrom, states, best, scores[best]);
    }

    private static int BestFinal(PhoneGraph graph, float[] scores)
    {
        var best = 2 * graph.Finals[0];
        foreach (var final in graph.Finals)
        {
            best = scores[2 * final] > scores[best] ? 2 * final : best;
            best = scores[(2 * final) + 1] > scores[best] ? (2 * final) + 1 : best;
        }

        return best;
    }

    private static float[] Forward(PhoneGraph graph, Posteriors posteriors, int[] cameFrom, int states)
    {
        var now = new float[states];
        var next = new float[states];
        var entries = new Entry[graph.Junctions.Length];
        Array.Fill(now, float.NegativeInfinity);
        now[^1] = posteriors.Row(0)[Phones.Blank];
        for (var node = 0; node < graph.Count; node++)
        {
            if (graph.MayStart[node])
            {
                now[2 * node] = posteriors.Row(0)[graph.Nodes[node].Phone];
            }
        }

        for (var frame = 1; frame < posteriors.Frames; frame++)
        {
            for (var n = 0; n < entries.Length; n++)
            {
                entries[n] = Gather(graph, graph.Junctions[n], now);
            }

            var trace = cameFrom.Length == 0 ? [] : cameFrom.AsSpan(frame * states, states);
            Step(graph, posteriors.Row(frame), entries, now, next, trace);
            (now, next) = (next, now);
        }

        return now;
    }

    // The best ways into all nodes that share a junction: after a blank, and straight from a phone; of the latter also the best with
    // another phone, for the node whose own phone the best one is.
    private static Entry Gather(PhoneGraph graph, int[] before, float[] now)
    {
        int blank = -1, sound = -1, other = -1;
        foreach (var node in before)
        {
            var here = 2 * node;
            blank = blank < 0 || now[here + 1] > now[blank] ? here + 1 : blank;
            if (sound < 0 || now[here] > now[sound])
            {
                other = sound >= 0 && graph.Nodes[sound / 2].Phone != graph.Nodes[node].Phone ? sound : other;
                sound = here;
            }
            else if (graph.Nodes[sound / 2].Phone != graph.Nodes[node].Phone && (other < 0 || now[here] > now[other]))
            {
                other = here;
            }
        }

        return new Entry(blank, sound, other);
    }

    private static void Step(
        PhoneGraph graph, ReadOnlySpan<float> row, Entry[] entries, float[] now, float[] next, Span<int> cameFrom)
    {
        var blank = row[Phones.Blank];
        var start = now.Length - 1;
        next[start] = now[start] + blank;
        var tracing = !cameFrom.IsEmpty;
        if (tracing)
        {
            cameFrom[start] = start;
        }

        for (var n = 0; n < graph.Count; n++)
        {
            ref readonly var node = ref graph.Nodes[n];
            ref readonly var entry = ref entries[node.Junction];
            var from = graph.MayStart[n] && now[start] > now[2 * n] ? start : 2 * n;
            from = entry.Blank >= 0 && now[entry.Blank] > now[from] ? entry.Blank : from;
            var sound = entry.Sound >= 0 && graph.Nodes[entry.Sound / 2].Phone == node.Phone ? entry.OtherSound : entry.Sound;
            from = sound >= 0 && now[sound] > now[from] ? sound : from;
            next[2 * n] = now[from] + row[node.Phone];
            var blankFrom = now[2 * n] > now[(2 * n) + 1] ? 2 * n : (2 * n) + 1;
            next[(2 * n) + 1] = now[blankFrom] + blank;
            if (tracing)
            {
                cameFrom[2 * n] = from;
                cameFrom[(2 * n) + 1] = blankFrom;
            }
        }
    }

    private static GraphPath Trace(PhoneGraph graph, Posteriors posteriors, int[] cameFrom, int states, int last, float score)
    {
        var path = new int[posteriors.Frames];
        path[^1] = last;
        for (var frame = path.Length - 1; frame > 0; frame--)
        {
            path[frame - 1] = cameFrom[(frame * states) + path[frame]];
        }

        var words = new List<WordSpan>();
        double outside = 0, trailing = 0;
        for (var frame = 0; frame < path.Length; frame++)
        {
            var sounding = path[frame] % 2 == 0 && path[frame] != states - 1;
            PhoneNode? node = sounding ? graph.Nodes[path[frame] / 2] : null;
            var enters = sounding && (frame == 0 || path[frame - 1] != path[frame]);
            var deficit = posteriors.Deficit(frame, node?.Phone ?? Phones.Blank);
            if (node is { StartsWord: true } && enters)
            {
                Settle(words, ref trailing);
                words.Add(new WordSpan(node.Value.Word, frame, frame + 1, 1, deficit));
            }
            else if (words.Count == 0)
            {
                outside += deficit;
            }
            else if (node is null)
            {
                trailing += deficit;
            }
            else
            {
                Settle(words, ref trailing);
                var word = words[^1];
                words[^1] = word with { EndFrame = frame + 1, Phones = word.Phones + (enters ? 1 : 0), Deficit = word.Deficit + deficit };
            }
        }

        return new GraphPath(score, words, outside + trailing);
    }

    // Blanks count to the word they follow once it is known that more follows; after the last phone they lie outside.
    private static void Settle(List<WordSpan> words, ref double trailing)
    {
        if (words.Count > 0)
        {
            words[^1] = words[^1] with { Deficit = words[^1].Deficit + trailing };
        }

        trailing = 0;
    }

    private readonly record struct Entry(int Blank, int Sound, int OtherSound);
}
