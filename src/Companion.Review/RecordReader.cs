using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Companion.Contracts;
using Companion.Domain.Events;
using Companion.Engine.Codec;
using Companion.Engine.Codec.Upcasting;

namespace Companion.Review;

/// <summary>Opens a chain for people who look back: everything that can be read is shown, and what cannot is told.</summary>
internal static class RecordReader
{
    /// <summary>By how much the wall clock may differ from the running clock between two entries before it counts as set: 1 s.</summary>
    private const long LargestDrift = 1_000_000_000;

    public static RecordedJob Read(string chain, IEnumerable<JournalEntry> entries, Upcasters upcasters)
    {
        var recorded = ImmutableArray.CreateBuilder<RecordedEntry>();
        var troubles = ImmutableArray.CreateBuilder<RecordTrouble>();
        JournalEntry? before = null;
        var (at, hashes, twice) = (0L, new HashSet<string>(), new List<long>());
        foreach (var entry in entries.OrderBy(entry => entry.Sequence))
        {
            if (before is not null)
            {
                troubles.AddRange(Between(before, entry, hashes));
                at += Elapsed(before, entry);
            }

            if (before?.Sequence == entry.Sequence)
            {
                twice.Add(entry.Sequence);
            }
            else
            {
                hashes.Clear();
            }

            hashes.Add(entry.Hash);

            recorded.Add(new RecordedEntry(entry, EventOf(entry, upcasters, troubles), at));
            before = entry;
        }

        return new RecordedJob(chain, recorded.ToImmutable(), [.. Twice(twice).Concat(troubles).OrderBy(trouble => trouble.Sequence)]);
    }

    /// <summary>A run of sequences that are there twice is one thing to know, however long it is.</summary>
    private static IEnumerable<RecordTrouble> Twice(IEnumerable<long> sequences)
    {
        foreach (var run in sequences.Distinct().Select((sequence, index) => (sequence, index)).GroupBy(each => each.sequence - each.index))
        {
            var (first, last) = (run.First().sequence, run.Last().sequence);
            yield return new RecordTrouble(first, TroubleKind.Twice, first == last
                ? string.Create(CultureInfo.InvariantCulture, $"Entry {first} is there twice: two journals claim this job. Both are shown.")
                : string.Create(CultureInfo.InvariantCulture, $"Entries {first} to {last} are there twice: two journals claim this job. Both are shown."));
        }
    }

    private static JobEvent? EventOf(JournalEntry entry, Upcasters upcasters, ImmutableArray<RecordTrouble>.Builder troubles)
    {
        if (entry.Format > upcasters.Newest)
        {
            TellNewer(entry, upcasters, troubles);
            return null;
        }

        try
        {
            return EventCodec.Read(entry, upcasters);
        }
        catch (Exception fault) when (fault is JsonException or FormatException or InvalidOperationException or ArgumentException or NotSupportedException)
        {
            troubles.Add(new RecordTrouble(entry.Sequence, TroubleKind.Unreadable, string.Create(
                CultureInfo.InvariantCulture, $"Entry {entry.Sequence} cannot be read as {entry.Type}: {fault.Message}")));
            return null;
        }
    }

    /// <summary>Told once: whoever updated in the middle of a job wrote the whole rest of it in the later version.</summary>
    private static void TellNewer(JournalEntry entry, Upcasters upcasters, ImmutableArray<RecordTrouble>.Builder troubles)
    {
        if (troubles.All(trouble => trouble.Kind != TroubleKind.Newer))
        {
            troubles.Add(new RecordTrouble(entry.Sequence, TroubleKind.Newer, string.Create(
                CultureInfo.InvariantCulture,
                $"Entries from {entry.Sequence} on were {EntryFormat.TooNew(entry.Format, upcasters.Newest)}. Their times and types are shown; what they say is not.")));
        }
    }

    private static long Elapsed(JournalEntry before, JournalEntry entry) => Math.Max(
        0, before.BootId == entry.BootId ? entry.Uptime - before.Uptime : WallBetween(before, entry));

    private static long WallBetween(JournalEntry before, JournalEntry entry) => (entry.Time - before.Time).Ticks * 100;

    /// <summary>What is wrong between an entry and the one before it, of which, with its hash, there may be several.</summary>
    private static IEnumerable<RecordTrouble> Between(JournalEntry before, JournalEntry entry, HashSet<string> hashes)
    {
        if (entry.Sequence == before.Sequence)
        {
            yield break;
        }

        if (entry.Sequence > before.Sequence + 1)
        {
            yield return new RecordTrouble(entry.Sequence, TroubleKind.Gap, string.Create(
                CultureInfo.InvariantCulture, $"Entries {before.Sequence + 1} to {entry.Sequence - 1} are missing."));
        }
        else if (!hashes.Contains(entry.PreviousHash))
        {
            yield return new RecordTrouble(entry.Sequence, TroubleKind.BrokenLink, string.Create(
                CultureInfo.InvariantCulture, $"Entry {entry.Sequence} does not link to the one before it."));
        }

        if (before.BootId == entry.BootId && Math.Abs(WallBetween(before, entry) - (entry.Uptime - before.Uptime)) is var step && step > LargestDrift)
        {
            yield return new RecordTrouble(entry.Sequence, TroubleKind.ClockStep, string.Create(
                CultureInfo.InvariantCulture, $"The wall clock was set by about {step / 1_000_000_000} s at entry {entry.Sequence}. Order and waits do not depend on it."));
        }
    }
}
