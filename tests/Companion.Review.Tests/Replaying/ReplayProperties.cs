using System.Text.Json;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Codec;
using Companion.Review.Replaying;
using Companion.Screens.Answering;
using Companion.Screens.Showing;
using Companion.Screens.Starting;
using Companion.TestKit;
using Companion.TestKit.Judging;
using CsCheck;

namespace Companion.Review.Tests.Replaying;

/// <summary>I13: a replay shows what the engine showed, at any entry and however one comes there.</summary>
public sealed class ReplayProperties
{
    private static readonly int[] Chaos = [0, 8, 8, 20, 60];

    private static readonly Gen<(int Seed, int Chaos, int Steps)> Lives =
        Gen.Select(Gen.Int[0, 1_000_000], Gen.Int[0, Chaos.Length - 1].Select(index => Chaos[index]), Gen.Int[20, 160]);

    [Fact]
    public void A_replay_gives_the_state_and_the_screen_that_the_engine_gave() => Lives.Sample(
        life =>
        {
            var lived = LivedJob.Walk(life.Seed, life.Chaos, life.Steps);
            var replay = new JobReplay(lived.Record());
            Oracle.Claim(
                lived.Entries.Select(entry => entry.Hash).SequenceEqual(replay.Record.Entries.Select(entry => entry.Entry.Hash)), "I13: other entries, or another order");
            foreach (var (sequence, seen) in lived.Seen)
            {
                var screen = ReplayScreen.After(replay, replay.CountTo(sequence));
                Oracle.Claim(JobText.Of(screen.State.Job) == JobText.Of(seen.Job), $"I13: another state at entry {sequence}");
                Oracle.Claim(Text(screen.View) == Text(Shown(seen)), $"I13: another screen at entry {sequence}\n{Text(screen.View)}\n{Text(Shown(seen))}");
            }
        },
        iter: 15);

    [Fact]
    public void Seeking_anywhere_gives_what_folding_from_the_start_gives() => Gen.Select(Lives, Gen.Int[0, 2000].Array[12]).Sample(
        (life, jumps) =>
        {
            var record = LivedJob.Walk(life.Seed, life.Chaos, life.Steps).Record();
            var replay = new JobReplay(record);
            foreach (var count in jumps.Select(jump => jump % (record.Entries.Length + 1)))
            {
                var folded = Rebuild.JobOf(record.Entries.Take(count).Select(entry => entry.Entry));
                Oracle.Claim(JobText.Of(replay.After(count).Job) == JobText.Of(folded), $"I13: a seek to {count} of {record.Entries.Length} gives another state");
            }
        },
        iter: 12);

    // A record with holes is shown as far as it goes: the fold never refuses an entry, and it is told that the record is not whole.
    [Fact]
    public void A_record_with_holes_is_replayed_to_its_end_and_its_troubles_are_told() => Gen.Select(Lives, Gen.Int[2, 9]).Sample(
        (life, every) =>
        {
            var entries = LivedJob.Walk(life.Seed, life.Chaos, life.Steps).Entries;
            var record = RecordedJob.Of("job-1", entries.Where((_, index) => index % every != every - 1));
            var replay = new JobReplay(record);
            foreach (var entry in record.Entries)
            {
                Oracle.Claim(ReplayScreen.At(replay, entry.Since).State.Count > 0, "nothing is shown");
            }

            Oracle.Claim(entries.Count < every + 1 || !record.Troubles.IsEmpty, "a hole is not told");
        },
        iter: 15);

    /// <summary>The screen of a snapshot. What was heard is left out: the words of answers that were taken are not recorded.</summary>
    private static JobView Shown(Snapshot seen) => JobViews.Of(
        seen with { LastHeard = null },
        Entry.Empty,
        new FakeSheets(),
        new JobOpening([new CrewChoice("crew-4", "Ines")], [], [], false, default, default, () => string.Empty, () => default));

    private static string Text(JobView view) => JsonSerializer.Serialize(view with { Heard = null });
}
