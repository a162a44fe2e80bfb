using System.Collections.Concurrent;
using Companion.Domain.Events;
using Companion.Domain.Sound;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Voice.Keeping;

/// <summary>
/// Writes a job's sound beside the journal, in parts of a minute, on a thread of its own: neither the ear nor the loop ever waits for it.
/// When the disk is full or fails it stops for this job, says so once, and nothing else happens.
/// </summary>
public sealed class SoundKeeper : ISoundTap, IDisposable
{
    /// <summary>Frames that may wait for the disk: eight seconds. A further one is missing from the sound, and counted.</summary>
    public const int MostWaiting = 250;

    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(250);
    private static readonly TimeSpan StopPatience = TimeSpan.FromSeconds(2);
    private static readonly Ticks Grace = Ticks.OfSeconds(5);

    private readonly PartFiles files;
    private readonly IClock clock;
    private readonly IInbox inbox;
    private readonly BlockingCollection<SoundPiece> waiting = new(MostWaiting);
    private readonly Thread writer;
    private volatile string? wanted;
    private volatile bool isBroken;
    private SoundPart? part;
    private string? stopped;
    private int lost;
    private bool isTold;
    private bool isEnded;

    /// <summary>A keeper that records nothing yet.</summary>
    /// <param name="files">The disk.</param>
    /// <param name="clock">Tells when a part that gets no more sound is to be closed.</param>
    /// <param name="inbox">Where trouble is told.</param>
    public SoundKeeper(PartFiles files, IClock clock, IInbox inbox)
    {
        this.files = files;
        this.clock = clock;
        this.inbox = inbox;
        writer = new Thread(Write) { Name = "sound keeper", IsBackground = true, Priority = ThreadPriority.BelowNormal };
        writer.Start();
    }

    /// <summary>Raised on the writer's thread for every part that is whole, with its job; handlers return at once.</summary>
    public event Action<string, SoundRecorded>? Whole;

    /// <summary>Frames that wait for the disk now.</summary>
    public int Waiting => waiting.Count;

    /// <summary>From now on the sound of this job is kept; of none when null. Any thread, at once.</summary>
    public void Keep(string? job)
    {
        if (job is null || SoundFolder.IsPlainName(job))
        {
            wanted = job;
        }
    }

    /// <inheritdoc/>
    public void Take(ReadOnlySpan<float> frame, Moment came)
    {
        if (wanted is not { } job)
        {
            return;
        }

        var samples = new short[frame.Length];
        for (var n = 0; n < samples.Length; n++)
        {
            samples[n] = (short)Math.Clamp(frame[n] * 32768f, short.MinValue, short.MaxValue);
        }

        if (Add(new SoundPiece(job, samples, came, isBroken)))
        {
            isBroken = false;
        }
        else
        {
            isBroken = true;
            Interlocked.Increment(ref lost);
        }
    }

    /// <inheritdoc/>
    public void Break() => isBroken = true;

    /// <summary>
    /// Makes whole what a kill left open. Of the open job, parts that its record does not know are told by <see cref="Whole"/>; those of ended
    /// jobs stay without an entry.
    /// </summary>
    /// <param name="openJob">The job that is open; null when none is.</param>
    /// <param name="known">The files that its record knows.</param>
    public void TakeUp(string? openJob, IReadOnlySet<string> known)
    {
        foreach (var folder in files.Folders())
        {
            var job = Path.GetFileName(folder);
            foreach (var path in Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal).ToList())
            {
                var isOpen = path.EndsWith(SoundFolder.OpenPart, StringComparison.Ordinal);
                if ((isOpen || (job == openJob && !known.Contains(Path.GetFileName(path)))) && Mended(path) is { } mended && job == openJob)
                {
                    Tell(job, mended);
                }
            }
        }
    }

    /// <summary>Closes what is open, and stops.</summary>
    public void Dispose()
    {
        wanted = null;
        if (Interlocked.Exchange(ref isEnded, true))
        {
            return;
        }

        waiting.CompleteAdding();

        // A write that hangs in the disk cannot be ended from here; the process's end will do it, and the next start makes the part whole.
        if (writer.Join(StopPatience))
        {
            waiting.Dispose();
        }
    }

    private bool Add(SoundPiece piece)
    {
        try
        {
            return waiting.TryAdd(piece);
        }
        catch (InvalidOperationException)
        {
            // Stopped meanwhile.
            return false;
        }
    }

    private static SoundRecorded? Mended(string path)
    {
        try
        {
            return SoundPart.Mend(path);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // It stays as it is, and is tried again at the next start.
            return null;
        }
    }

    private void Write()
    {
        while (!waiting.IsCompleted)
        {
            try
            {
                if (waiting.TryTake(out var piece, LookEvery))
                {
                    Keep(piece);
                }
                else if (part is { } open && (open.Job != wanted || clock.Now().BootId != open.BootId || clock.Now().Boot > open.Due + Grace))
                {
                    Close(open);
                }
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                Stop(fault.Message);
            }
        }

        CloseAtTheEnd();
    }

    private void Keep(SoundPiece piece)
    {
        if (piece.Job == stopped)
        {
            return;
        }

        if (part is { } open && !open.Fits(piece))
        {
            Close(open);
        }

        part ??= Begin(piece);
        part?.Add(piece);
    }

    private SoundPart? Begin(SoundPiece first)
    {
        if (files.Room() < PartFiles.LeastRoom)
        {
            Stop("There is too little room on the disk", first.Job);
            return null;
        }

        var begun = new SoundPart(files, first);
        if (stopped is not null)
        {
            stopped = null;
            TellBack();
        }

        return begun;
    }

    private void Close(SoundPart open)
    {
        part = null;
        using (open)
        {
            Tell(open.Job, open.Close());
        }

        TellLost();
    }

    private void CloseAtTheEnd()
    {
        try
        {
            if (part is { } open)
            {
                Close(open);
            }
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // The next start makes it whole.
        }
    }

    private void Stop(string reason, string? job = null)
    {
        stopped = job ?? part?.Job ?? wanted;
        if (part is { } open)
        {
            // A full disk takes nothing more, but what it has may still be made whole.
            part = null;
            open.Dispose();
            Tell(open.Job, Mended(open.Path));
        }

        isTold = true;
        inbox.Post(new DeviceNotice(DeviceNotice.Sound, false, $"Sound is not recorded any more in this job. {reason.TrimEnd('.')}. Everything else goes on."));
    }

    /// <summary>Frames that found no room are told once for the part that lacks them; a whole part after trouble is told as its end.</summary>
    private void TellLost()
    {
        var count = Interlocked.Exchange(ref lost, 0);
        if (count > 0)
        {
            isTold = true;
            inbox.Post(new DeviceNotice(DeviceNotice.Sound, false, $"The disk was too slow for the sound: {count} frames of 32 milliseconds are missing from it. Everything else goes on."));
        }
        else if (isTold)
        {
            TellBack();
        }
    }

    private void TellBack()
    {
        isTold = false;
        inbox.Post(new DeviceNotice(DeviceNotice.Sound, true, "Sound is recorded again."));
    }

    private void Tell(string job, SoundRecorded? whole)
    {
        if (whole is not null)
        {
            Whole?.Invoke(job, whole);
        }
    }
}
