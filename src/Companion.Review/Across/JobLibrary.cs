using System.Collections.Immutable;

namespace Companion.Review.Across;

/// <summary>
/// The facts of all records, each read once and again only when its stamp changes, in memory. A look reads at most so many new records and says
/// how many are left, so that no page waits for thousands. Callable from any thread.
/// </summary>
public sealed class JobLibrary(IRecordSource source)
{
    /// <summary>Most records that are kept, the newest.</summary>
    public const int MostKept = 20_000;

    /// <summary>Most records that one look reads anew.</summary>
    public const int MostReadAtOnce = 200;

    /// <summary>Most places that a search shows.</summary>
    public const int MostFound = 200;

    private readonly Lock _lock = new();
    private readonly Dictionary<RecordName, Kept> _kept = [];
    private readonly SpokenTexts _spoken = new();

    /// <summary>The facts as the records stand now.</summary>
    public LibraryView Look(int most = MostReadAtOnce)
    {
        lock (_lock)
        {
            var left = Refresh(most);
            return new LibraryView([.. _kept.Values.Select(kept => kept.Facts).OfType<JobFacts>()], left);
        }
    }

    /// <summary>Where words were heard or said in jobs that a filter admits, the newest first.</summary>
    public ImmutableArray<Found> Search(string words, JobFilter filter, int most = MostFound)
    {
        lock (_lock)
        {
            Refresh(0);
            var admitted = filter.Of(_kept.Values.Select(kept => kept.Facts).OfType<JobFacts>()).ToDictionary(facts => facts.Name);
            return
            [
                .. _spoken.Find(words)
                    .Where(found => admitted.ContainsKey(found.Place.Record))
                    .Select(found => new Found(admitted[found.Place.Record], found.Place.Sequence, found.Place.Heard, found.Text))
                    .OrderByDescending(found => found.Job.Opened).ThenBy(found => found.Job.Name.Chain, StringComparer.Ordinal).ThenBy(found => found.Sequence)
                    .Take(most),
            ];
        }
    }

    private int Refresh(int most)
    {
        var names = source.Names().Take(MostKept).ToList();
        foreach (var gone in _kept.Keys.Except(names).ToList())
        {
            Forget(gone);
        }

        var left = 0;
        foreach (var name in names)
        {
            var stamp = source.StampOf(name);
            if (_kept.TryGetValue(name, out var kept) && kept.Stamp == stamp)
            {
                continue;
            }

            // What has changed is forgotten before it is read again: a text that was erased is not found meanwhile.
            Forget(name);
            if (most-- <= 0)
            {
                left++;
            }
            else if (source.Open(name) is { } job)
            {
                var facts = JobCount.Of(name, job);
                _kept[name] = new Kept(stamp, facts);
                _spoken.Put(name, job);
            }
        }

        return left;
    }

    private void Forget(RecordName name)
    {
        if (_kept.Remove(name))
        {
            _spoken.Remove(name);
        }
    }

    private sealed record Kept(string Stamp, JobFacts? Facts);
}

/// <summary>The facts at one look.</summary>
/// <param name="Jobs">Those that were read.</param>
/// <param name="Left">How many records are still to be read.</param>
public sealed record LibraryView(ImmutableArray<JobFacts> Jobs, int Left);

/// <summary>Something that was heard or said.</summary>
/// <param name="Job">In which job.</param>
/// <param name="Sequence">At which entry.</param>
/// <param name="Heard">True when a person said it.</param>
/// <param name="Text">The text.</param>
public sealed record Found(JobFacts Job, long Sequence, bool Heard, string Text);
