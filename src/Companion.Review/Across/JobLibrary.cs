using System.Collections.Immutable;

namespace Companion.Review.Across;

/// <summary>
/// The facts of all records, each read once and again only when its stamp changes, in memory. What is to be read is read in the background, several
/// records at once; a look waits for it only so long and says how many are left, so that no page waits for thousands. A record that cannot be
/// read keeps no other from being read. Callable from any thread.
/// </summary>
public sealed class JobLibrary(IRecordSource source)
{
    /// <summary>Most records that are kept, the newest.</summary>
    public const int MostKept = 20_000;

    /// <summary>Most places that a search shows.</summary>
    public const int MostFound = 200;

    /// <summary>How long a page waits for what is still being read.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    private readonly Lock _lock = new();
    private readonly Dictionary<RecordName, Kept> _kept = [];
    private readonly SpokenTexts _spoken = new();
    private readonly Queue<(RecordName Name, string Stamp)> _due = [];
    private readonly Dictionary<RecordName, string> _underway = [];
    private readonly Dictionary<RecordName, Unreadable> _unreadable = [];
    private int _readers;
    private int _all;
    private TaskCompletionSource _read = Begun();

    /// <summary>Readers at once, a core left free where there are three: each has a thread of its own, so that the pool, where the watch is, does not wait behind them.</summary>
    private static int MostReaders => Math.Max(2, Environment.ProcessorCount - 1);

    /// <summary>How many records are read, how many there were to read at the last look, and how many of them cannot be read.</summary>
    public (int Read, int All, int Unreadable) Progress
    {
        get
        {
            lock (_lock)
            {
                return (_kept.Count, _kept.Count + Missing + _unreadable.Count, _unreadable.Count);
            }
        }
    }

    /// <summary>Done when nothing is left to be read. Whoever waits goes on by another thread: this one holds the lock.</summary>
    private static TaskCompletionSource Begun() => new(TaskCreationOptions.RunContinuationsAsynchronously);

    private int Left => _due.Count + _underway.Count;

    /// <summary>Not read yet, of those there were at the last look.</summary>
    private int Missing => Math.Max(Left, _all - _kept.Count - _unreadable.Count);

    /// <summary>The facts as the records stand now, as far as they can be read while the patience lasts. What could not be read is tried again.</summary>
    /// <param name="patience">How long to wait for what is still to be read; infinite for all of it.</param>
    /// <param name="cancellation">Ends the wait, not the reading.</param>
    public async Task<LibraryView> LookAsync(TimeSpan patience, CancellationToken cancellation = default)
    {
        Task read;
        lock (_lock)
        {
            _unreadable.Clear();
            Compare();
            read = _read.Task;
        }

        try
        {
            await read.WaitAsync(patience, cancellation).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            // The view says how many are left.
        }

        lock (_lock)
        {
            return new LibraryView([.. _kept.Values.Select(kept => kept.Facts).OfType<JobFacts>()], _kept.Count, Missing, [.. _unreadable.Values]);
        }
    }

    /// <summary>Where words were heard or said in jobs that a filter admits, the newest first, as far as records are read.</summary>
    public ImmutableArray<Found> Search(string words, JobFilter filter, int most = MostFound)
    {
        lock (_lock)
        {
            Compare();
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

    /// <summary>What has changed is forgotten before it is read again: a text that was erased is not found meanwhile.</summary>
    private void Compare()
    {
        var names = source.Names().Take(MostKept).ToList();
        foreach (var gone in _kept.Keys.Except(names).ToList())
        {
            Forget(gone);
        }

        _all = names.Count;
        _due.Clear();
        foreach (var name in names)
        {
            var stamp = source.StampOf(name);
            if ((_kept.TryGetValue(name, out var kept) && kept.Stamp == stamp) || _unreadable.ContainsKey(name))
            {
                continue;
            }

            Forget(name);
            if (_underway.GetValueOrDefault(name) != stamp)
            {
                _due.Enqueue((name, stamp));
            }
        }

        Start();
    }

    private void Start()
    {
        if (_read.Task.IsCompleted)
        {
            _read = Begun();
        }

        EndIfAll();
        for (; _readers < Math.Min(MostReaders, _due.Count); _readers++)
        {
            new Thread(ReadOn) { IsBackground = true, Name = "jobs together" }.Start();
        }
    }

    private void ReadOn()
    {
        while (Next() is var (name, stamp))
        {
            try
            {
                // A record that is changed while it is read is kept under its old stamp, and read again at the next look.
                var job = source.Open(name);
                var facts = job is null ? null : JobCount.Of(name, job);
                Keep(name, stamp, job, facts);
            }
            catch (Exception fault)
            {
                SetAside(name, fault);
            }
        }
    }

    /// <summary>The next record to read; null, and this reader ends, when there is none.</summary>
    private (RecordName Name, string Stamp)? Next()
    {
        lock (_lock)
        {
            if (!_due.TryDequeue(out var due))
            {
                _readers--;
                return null;
            }

            _underway[due.Name] = due.Stamp;
            return due;
        }
    }

    private void Keep(RecordName name, string stamp, RecordedJob? job, JobFacts? facts)
    {
        lock (_lock)
        {
            _underway.Remove(name);
            Forget(name);
            _kept[name] = new Kept(stamp, facts);
            if (job is not null)
            {
                _spoken.Put(name, job);
            }

            EndIfAll();
        }
    }

    private void SetAside(RecordName name, Exception fault)
    {
        lock (_lock)
        {
            _underway.Remove(name);
            _unreadable[name] = new Unreadable(name, fault.Message);
            EndIfAll();
        }
    }

    private void EndIfAll()
    {
        if (Left == 0)
        {
            _read.TrySetResult();
        }
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
/// <param name="Read">How many records are read; one without the opening of a job has no facts.</param>
/// <param name="Left">How many records are still to be read.</param>
/// <param name="Unreadable">Those that cannot be read: the facts are without them.</param>
public sealed record LibraryView(ImmutableArray<JobFacts> Jobs, int Read, int Left, ImmutableArray<Unreadable> Unreadable);

/// <summary>A record that could not be read.</summary>
/// <param name="Name">Which.</param>
/// <param name="Trouble">Why, in the words of the machine.</param>
public sealed record Unreadable(RecordName Name, string Trouble);

/// <summary>Something that was heard or said.</summary>
/// <param name="Job">In which job.</param>
/// <param name="Sequence">At which entry.</param>
/// <param name="Heard">True when a person said it.</param>
/// <param name="Text">The text.</param>
public sealed record Found(JobFacts Job, long Sequence, bool Heard, string Text);
