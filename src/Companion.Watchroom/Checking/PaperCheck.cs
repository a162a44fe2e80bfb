using System.Text;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Heads;
using Companion.Journal.Reading;
using Companion.Papers.Coding;
using Companion.Review;
using Companion.Watchroom.Access;
using Companion.Watchroom.Proving;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Web;

namespace Companion.Watchroom.Checking;

/// <summary>
/// Holds a paper against the record that was received. It tells nobody more about a job than the paper itself says, but for one thing: whether
/// the job went on. Callable from any thread.
/// </summary>
/// <param name="store">The watch room's folder, with its own key.</param>
/// <param name="devices">The tablets.</param>
/// <param name="receiver">What they sent.</param>
/// <param name="audit">Where it is written down who asked for what.</param>
/// <param name="time">The watch room's time: a clear to work of the past counts no more.</param>
internal sealed class PaperCheck(string store, Devices devices, IJournalReceiver receiver, Audit audit, TimeProvider time)
{
    /// <summary>Most bytes of a text: a code is far shorter.</summary>
    public const int MostBytes = 2 * PaperCode.MostBytes;

    private const string TabletLine = "tablet ";
    private const string NoneFits = "No paper with this job, entry and digits is known here. Compare what you typed with the paper. If it is the same, the paper is forged, or its part of the record has not arrived here or is damaged here: ask the watch room.";

    /// <summary>A code as it was scanned or pasted.</summary>
    public PaperVerdict OfText(string scanned)
    {
        var text = scanned.ReplaceLineEndings("\n").Trim();
        if (Encoding.UTF8.GetByteCount(text) > MostBytes)
        {
            return Refuse("This is longer than any code of a paper. Paste the words of the code alone.");
        }

        var device = DeviceIn(text);
        var isRoom = false;
        var reading = PaperCode.Read(text, keyId =>
        {
            var own = RoomKey();
            isRoom = own is not null && HeadStatement.KeyId(own) == keyId;
            return isRoom ? own : device is null ? null : TabletKeys.Find(receiver, device.Name, keyId);
        });
        if (reading.Statement is not { } statement || device is null)
        {
            return Refuse(reading.Reason ?? "The tablet of this paper is not known here.");
        }

        return Told(device, statement, isRoom ? "It was signed by this watch room." : "It was signed by a tablet that was paired with this watch room.");
    }

    /// <summary>Digits as somebody typed them, with the job and the entry that stand beside them.</summary>
    public PaperVerdict OfDigits(string job, long entry, string typed)
    {
        if (CheckDigits.Read(typed) is not { } digits)
        {
            return Refuse("These digits do not fit together: there are fifteen, and one of them is wrong or missing. Type them again.");
        }

        if (!EntryCodec.IsChainName(job) || job == Chains.Tablet)
        {
            return Refuse(NoneFits);
        }

        // Whether the job is unknown or the digits are wrong is not told: who guesses learns no name of a job.
        foreach (var device in devices.All().Where(device => receiver.Read(device.Name, job).Any()))
        {
            if (Held(device, job, entry) is { Statement: { } statement } && CheckDigits.Of(statement) == digits)
            {
                return Told(device, statement, "The digits are those of the record that is held here. They tell papers apart; they are no signature.");
            }
        }

        return Refuse(NoneFits);
    }

    private PaperVerdict Told(Device device, PaperStatement statement, string ground)
    {
        var verdict = Judge(device, statement, ground);
        audit.Checked(device.Name, statement.Job, statement.Sequence, verdict.Kind.ToString().ToLowerInvariant());
        return verdict;
    }

    private PaperVerdict Refuse(string reason)
    {
        audit.Refused(Audit.Stranger, "paper", StatusCodes.Status422UnprocessableEntity, reason);
        return PaperVerdict.Refused(reason);
    }

    private PaperVerdict Judge(Device device, PaperStatement statement, string ground)
    {
        var held = Held(device, statement.Job, statement.Sequence);
        var stated = statement.Text.Split('\n').Skip(1);
        string[] late = statement.RetestDue <= time.GetUtcNow() ? ["The re-test was due by now: nobody is clear to work. Treat as live."] : [];
        if (held.Hash is { } hash && (statement.HashStart.Length != PaperStatement.HashDigits || !hash.StartsWith(statement.HashStart, StringComparison.Ordinal)))
        {
            return Contradicted(ground, "That entry of the job is another one here.");
        }

        if (held.Hash is not null && held.Statement != statement)
        {
            return Contradicted(ground, "The entry is the same; what it says of the vehicle is not what the record says up to there.");
        }

        if (device.Revoked is not null)
        {
            return new(VerdictKind.Revoked, "The tablet of this paper is no longer trusted.", [ground, "Its access was ended. Ask the watch room before you believe anything that it says.", .. late], [.. stated]);
        }

        return held switch
        {
            { Damage: { } damage } => new(
                VerdictKind.Damaged, "The record that is held here is damaged and does not decide.",
                [ground, damage, "Only the signature could be checked: the paper may be right or wrong. Tell the watch room, and keep the paper.", .. late], [.. stated]),
            { Hash: null } => new(
                VerdictKind.NotHeld, "This part of the record has not arrived here.",
                [ground, "Only the signature could be checked. The job may have gone on. Ask again later, or ask the watch room.", .. late], [.. stated]),
            { GoesOn: true } => new(
                VerdictKind.Older, "The job went on after this paper was made.",
                [ground, "The record that is held here says the same up to that entry; later entries have arrived. Ask for a newer paper.", .. late], [.. stated]),
            _ => new(
                VerdictKind.Fits, "The record that is held here says the same.",
                [ground, "No later entry of the job has arrived here; the tablet may hold some.", .. late], [.. stated]),
        };
    }

    private static PaperVerdict Contradicted(string ground, string how) => new(
        VerdictKind.Contradicted, "Believe nothing on this paper: the record that is held here says something else.", [ground, how, "Tell the watch room, and keep the paper."], []);

    /// <summary>What is held of a job up to an entry, where all of it up to there is sound.</summary>
    private HeldPaper Held(Device device, string job, long entry)
    {
        var fault = receiver.DamageOf(device.Name, job);
        if (fault?.First <= entry)
        {
            return new HeldPaper(null, null, false, fault.Words);
        }

        var entries = receiver.Read(device.Name, job).Select(line => LineReading.Of(line).Entry).OfType<JournalEntry>().ToList();
        var until = entries.FindIndex(each => each.Sequence == entry) + 1;
        return until == 0
            ? new HeldPaper(null, null, false, null)
            : new HeldPaper(entries[until - 1].Hash, PaperStatement.Of(RecordedJob.Of(job, entries.Take(until)), device.Tablet), entries.Count > until || fault?.First is not null, null);
    }

    private Device? DeviceIn(string text) =>
        Guid.TryParseExact(text.Split('\n').FirstOrDefault(line => line.StartsWith(TabletLine, StringComparison.Ordinal))?[TabletLine.Length..], "D", out var tablet)
            ? devices.All().FirstOrDefault(device => device.Tablet == tablet)
            : null;

    private string? RoomKey()
    {
        using var key = CounterSigner.KeyOf(store);
        return key?.PublicKey;
    }

    private sealed record HeldPaper(string? Hash, PaperStatement? Statement, bool GoesOn, string? Damage);
}
