using System.Text.Json;
using Companion.Contracts;
using Companion.Domain.Retention;
using Companion.Domain.Sound;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Retention;
using Companion.Tablet.Clocks;
using Companion.Tablet.Workshop;

namespace Companion.Tablet.Cli;

/// <summary>
/// retain [--store DIR] [--dry]: erases personal texts that are due. retain --job ID --by NAME --why TEXT: erases those of one job because somebody
/// asks for it. The app must not run meanwhile.
/// </summary>
public static class RetainVerb
{
    private const string KeptPrefix = "kept-";

    /// <summary>Says what was erased, or would be, and what is on hold; 0 when done.</summary>
    public static Task<int> RunAsync(Options options) => RunAsync(options, Console.Out, new TabletClock());

    /// <summary>The same, with its output and clock.</summary>
    public static async Task<int> RunAsync(Options options, TextWriter output, IClock clock)
    {
        options.Only("store", "dry", "job", "by", "why");
        var store = options["store"] ?? Places.Store;
        if (!StoreJobs.Exists(store))
        {
            throw new UsageException($"There is no store in {store}.");
        }

        await using var journal = await JournalStore.OpenAsync(store, new StoreOptions(clock)).ConfigureAwait(false);
        var retention = new TabletRetention(journal, clock);
        var sound = new SoundErasure(store, journal, clock);
        var isDry = options["dry"] is not null;
        var done = options["job"] is { } job
            ? await OnRequestAsync(retention, sound, journal, job, options, output).ConfigureAwait(false)
            : await WhenDueAsync(retention, sound, journal, store, clock, isDry, output).ConfigureAwait(false);
        TellOfCopies(journal, store, output);
        if (sound.Unknown is var unknown and > 0)
        {
            output.WriteLine($"note: {unknown} folders in {SoundFolder.Of(store)} belong to no job of this store. Delete them by hand.");
        }

        return done;
    }

    private static async Task<int> OnRequestAsync(TabletRetention retention, SoundErasure sound, JournalStore journal, string job, Options options, TextWriter output)
    {
        var isDry = options["dry"] is not null;
        var (by, why) = (options.Required("by"), options.Required("why"));
        if (job == Chains.Tablet || !journal.ChainNames().Contains(job))
        {
            throw new UsageException($"The store holds no job '{job}'.");
        }

        var found = retention.Asked(job);
        Tell(found, isDry, output);
        if (sound.Asked(job) is { } recorded)
        {
            await SoundAsync(sound, recorded, isDry, output, by, why).ConfigureAwait(false);
        }

        if (!isDry && found.Hold is null)
        {
            await retention.EraseAsync(found, by, why).ConfigureAwait(false);
        }

        return found.Hold is null ? 0 : 1;
    }

    private static async Task<int> WhenDueAsync(
        TabletRetention retention, SoundErasure sound, JournalStore journal, string store, IClock clock, bool isDry, TextWriter output)
    {
        // Its days were announced in the job: they hold although there is no other policy.
        var policyOrNone = RetentionFile.Read();
        foreach (var recorded in sound.Due(policyOrNone))
        {
            await SoundAsync(sound, recorded, isDry, output).ConfigureAwait(false);
        }

        var policy = policyOrNone ?? throw new UsageException(
            $"There is no retention.yaml in {Places.Data}: nothing falls due. Copy seeds/retention.yaml there and set your own days.");
        var due = retention.Due(policy);
        foreach (var found in due)
        {
            Tell(found, isDry, output);
            if (!isDry)
            {
                await retention.EraseAsync(found).ConfigureAwait(false);
            }
        }

        var recordings = new RecordingFiles(store).Due(policy, OnHold(journal), clock.Now().Wall);
        output.WriteLine($"{(isDry ? "would be erased" : "erased")}: {recordings.Count} recordings, {due.Count(found => found.Hold is null)} chains with due texts; {due.Count(found => found.Hold is not null)} on hold");
        if (!isDry && recordings.Count > 0)
        {
            await RecordAsync(journal, clock, recordings.Count).ConfigureAwait(false);
            foreach (var file in recordings)
            {
                File.Delete(file);
            }
        }

        return 0;
    }

    private static async Task SoundAsync(SoundErasure sound, DueSound found, bool isDry, TextWriter output, string? by = null, string? why = null)
    {
        output.WriteLine(found.Hold is { } hold
            ? $"{found.Job}: on hold, {hold}. Its recorded sound is kept."
            : $"{found.Job}: {(isDry ? "would be erased" : "erased")}: {found.Files} files of recorded sound");
        if (!isDry)
        {
            await sound.EraseAsync(found, by, why).ConfigureAwait(false);
        }
    }

    private static List<string> OnHold(JournalStore journal) =>
        [.. journal.ChainNames().Where(chain => chain != Chains.Tablet && JobHold.Of(journal.Read(chain)).Reason is not null)];

    private static async Task RecordAsync(JournalStore journal, IClock clock, int count)
    {
        var now = clock.Now();
        var data = JsonSerializer.Serialize(new { chain = Chains.Tablet, why = "due", texts = new { recordings = count } });
        await journal.AppendAsync(
            [new EntryDraft(Chains.Tablet, Erasure.EntryType, now.Wall, now.BootId, now.Boot.Nanoseconds, data, new Dictionary<string, string>())]).ConfigureAwait(false);
    }

    private static void Tell(ChainErasure found, bool isDry, TextWriter output) => output.WriteLine(found.Hold is { } hold
        ? $"{found.Chain}: on hold, {hold}. Nothing of it is erased."
        : found.Erasure.IsEmpty ? $"{found.Chain}: there is nothing to erase."
        : $"{found.Chain}: {(isDry ? "would be erased" : "erased")}: {found.Erasure.Words}");

    /// <summary>Copies that damage left are evidence, and hold what they held: only a person decides about them.</summary>
    private static void TellOfCopies(JournalStore journal, string store, TextWriter output)
    {
        var disk = new LocalDisk();
        var isSegment = StoreFiles.Current(disk, store).Segment > 1;
        if (isSegment || disk.Names(store).Concat(disk.Names(journal.FilesDirectory)).Any(name => name.StartsWith(KeptPrefix, StringComparison.Ordinal)))
        {
            output.WriteLine("note: this store has copies that were kept after damage. They still hold the texts that they held: delete them by hand once nobody needs them.");
        }
    }
}
