using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Engine;
using Companion.Engine.Codec;
using Companion.Engine.Ports;
using Companion.Voice.Keeping;

namespace Companion.Tablet;

/// <summary>
/// Stands between the loop and the keeper of sound: tells it whose sound is wanted, as the job's state says, and brings what is whole into the
/// job's chain through the engine.
/// </summary>
public sealed class SoundRecording : IDisposable
{
    private readonly SoundKeeper _keeper;
    private readonly JobEngine _engine;

    private SoundRecording(SoundKeeper keeper, JobEngine engine) => (_keeper, _engine) = (keeper, engine);

    /// <summary>Begins, once the engine has read the store: parts that a kill cut off come first.</summary>
    /// <param name="keeper">The keeper; disposed of with this.</param>
    /// <param name="engine">The engine.</param>
    /// <param name="journal">Where the parts stand that the open job's record knows.</param>
    public static SoundRecording Start(SoundKeeper keeper, JobEngine engine, IJournal journal)
    {
        var recording = new SoundRecording(keeper, engine);
        var open = engine.Snapshot.Job is { Ended: false, Sound: not null } job ? job.Id : null;
        keeper.Whole += recording.Tell;
        keeper.TakeUp(open, open is null ? new HashSet<string>() : KnownParts(journal, open));
        engine.Changed += recording.Follow;
        recording.Follow(engine.Snapshot);
        return recording;
    }

    /// <summary>Closes the part that is open; if the loop does not take it any more, the next start does.</summary>
    public void Dispose()
    {
        _engine.Changed -= Follow;
        _keeper.Dispose();
    }

    private static HashSet<string> KnownParts(IJournal journal, string job) =>
        [.. journal.Read(job).Select(EventCodec.Read).OfType<SoundRecorded>().Select(part => part.File)];

    private void Tell(string job, SoundRecorded part) => _engine.Post(new KeepSound(job, part));

    /// <summary>Without a record there is nothing that sound could be held against: then none is kept.</summary>
    private void Follow(Snapshot snapshot) => _keeper.Keep(snapshot is { Recording: true, Job: { RecordsSound: true } job } ? job.Id : null);
}
