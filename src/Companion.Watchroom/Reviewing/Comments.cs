using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Review;

namespace Companion.Watchroom.Reviewing;

/// <summary>
/// What people say about recorded jobs, and who countersigned it, in the journal's chain "review". Names and texts stay erasable, so nothing is
/// kept outside the journal: every look reads it. Callable from any thread.
/// </summary>
internal sealed class Comments(IJournal journal, IClock clock, IRecordSource records)
{
    /// <summary>The chain's name.</summary>
    public const string Chain = "review";

    /// <summary>The longest comment.</summary>
    public const int LongestText = 2000;

    /// <summary>Most comments on one job: more is a conversation, which has its place elsewhere.</summary>
    public const int MostOnAJob = 200;

    private const string Commented = "review.commented";
    private const string Countersigned = "review.countersigned";

    /// <summary>The comments on a job, oldest first.</summary>
    public ImmutableArray<Comment> Of(string device, string job)
    {
        var found = new List<Comment>();
        foreach (var entry in journal.Read(Chain))
        {
            using var document = JsonDocument.Parse(entry.Data);
            var data = document.RootElement;
            if (data.GetProperty("device").GetString() != device || data.GetProperty("job").GetString() != job)
            {
                continue;
            }

            if (entry.Type == Commented)
            {
                found.Add(new Comment(
                    entry.Sequence, entry.Time, data.GetProperty("sequence").GetInt64(), Personal(entry, "person"), Personal(entry, "text"), data.GetProperty("words").GetString() == "technician", null));
            }
            else if (entry.Type == Countersigned && found.FindIndex(comment => comment.Number == data.GetProperty("comment").GetInt64()) is >= 0 and var at)
            {
                found[at] = found[at] with { Signed = new Countersigning(Personal(entry, "person"), entry.Time) };
            }
        }

        return [.. found];
    }

    /// <summary>Records a comment; durable when this completes.</summary>
    /// <param name="device">The device.</param>
    /// <param name="job">The job.</param>
    /// <param name="sequence">The entry that it is about; 0 for the whole job.</param>
    /// <param name="person">Who writes it down.</param>
    /// <param name="text">The comment.</param>
    /// <param name="ofTechnician">True when these are the technician's words, written down by this person.</param>
    /// <returns>What is wrong with it, with what to do; null when it was recorded.</returns>
    public async Task<string?> AddAsync(string device, string job, long sequence, string person, string text, bool ofTechnician)
    {
        if (text.Trim() is not { Length: > 0 and <= LongestText } words)
        {
            return string.Create(CultureInfo.InvariantCulture, $"A comment has 1 to {LongestText} characters; this one has {text.Trim().Length}. Go back, and write it shorter or in parts.");
        }

        if (FaultOf(device, job, sequence) is { } fault)
        {
            return fault;
        }

        return await WriteAsync(
            Commented, new { device, job, sequence, words = ofTechnician ? "technician" : "own" }, new() { ["person"] = person, ["text"] = words }).ConfigureAwait(false);
    }

    /// <summary>Countersigns a comment: by another person than its author, or any lead when the words are the technician's.</summary>
    /// <returns>Why it was not countersigned; null when it was.</returns>
    public async Task<string?> CountersignAsync(string device, string job, long number, string person)
    {
        if (Of(device, job).FirstOrDefault(comment => comment.Number == number) is not { } comment)
        {
            return "There is no such comment on this job.";
        }

        if (comment.Signed is not null)
        {
            return "This comment is countersigned already.";
        }

        return comment.Person == person && !comment.OfTechnician
            ? "Nobody countersigns a comment of their own. Ask another team lead."
            : await WriteAsync(Countersigned, new { device, job, comment = number }, new() { ["person"] = person }).ConfigureAwait(false);
    }

    /// <summary>A comment on nothing could never be shown beside what it is about.</summary>
    private string? FaultOf(string device, string job, long sequence)
    {
        if (records.Open(new RecordName(device, job)) is not { } record)
        {
            return "The watch room holds no record of this job. Choose the job on the page of records.";
        }

        if (sequence != 0 && !record.Entries.Any(known => known.Entry.Sequence == sequence))
        {
            return string.Create(
                CultureInfo.InvariantCulture,
                $"The record of this job has no entry {sequence}; its last is {record.Entries.Max(known => known.Entry.Sequence)}. Take the number from the timeline, or 0 for the whole job.");
        }

        return Of(device, job).Length >= MostOnAJob ? $"There are {MostOnAJob} comments on this job. Talk about the rest in person." : null;
    }

    private async Task<string?> WriteAsync(string type, object data, Dictionary<string, string> personal)
    {
        var now = clock.Now();
        try
        {
            await journal.AppendAsync([new EntryDraft(Chain, type, now.Wall, now.BootId, now.Boot.Nanoseconds, JsonSerializer.Serialize(data), personal)]).ConfigureAwait(false);
            return null;
        }
        catch (Exception fault) when (fault is StoreFaultException or ArgumentException)
        {
            return $"It was not recorded: {fault.Message}";
        }
    }

    private static string? Personal(JournalEntry entry, string name) => entry.Sealed.TryGetValue(name, out var text) ? text.Text : null;
}
