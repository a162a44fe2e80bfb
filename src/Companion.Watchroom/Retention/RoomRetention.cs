using Companion.Contracts;
using Companion.Domain.Retention;
using Companion.Domain.Sound;
using Companion.Journal.Proof;
using Companion.Journal.Retention;
using Companion.Sheets;

namespace Companion.Watchroom.Retention;

/// <summary>
/// Erases personal texts that the watch room holds: those of received chains, which lie beside the bytes that are hashed, and those of its own
/// journal. What is erased is told first, in the audit chain, without the texts; a kill in between is made good by the next run. One run at a time.
/// </summary>
internal sealed class RoomRetention(WatchroomServices services)
{
    /// <summary>The operator's file in the watch room's store; without it nothing falls due.</summary>
    public const string PolicyName = "retention.yaml";

    private readonly SemaphoreSlim one = new(1, 1);

    /// <summary>Why nothing falls due although there is a policy, in plain words; null while all is well. The page of personal data shows it.</summary>
    public string? Fault { get; private set; }

    /// <summary>The policy; null when there is none, or it must not be used.</summary>
    public RetentionPolicy? Policy()
    {
        var path = Path.Combine(services.Store, PolicyName);
        if (!File.Exists(path))
        {
            Fault = null;
            return null;
        }

        var reading = RetentionReader.ReadFile(path);
        Fault = reading.Policy is null ? $"Nothing is erased: {path}: {string.Join(" ", reading.Problems)}" : null;
        return reading.Policy;
    }

    /// <summary>Erases all that is due.</summary>
    public async Task RunAsync()
    {
        var policyOrNone = Policy();
        await AloneAsync(() => EraseSoundAsync(policyOrNone)).ConfigureAwait(false);
        if (policyOrNone is not { } policy)
        {
            return;
        }

        await AloneAsync(async () =>
        {
            foreach (var device in services.Devices.All())
            {
                foreach (var held in services.Receiver.Chains(device.Name))
                {
                    var hold = HoldOf(device.Name, held.Chain);
                    await EraseReceivedAsync(device.Name, held.Chain, hold.Reason is null ? hold.Ended : null, policy, []).ConfigureAwait(false);
                }
            }

            var own = new RoomChains(services.Journal.Store, services.Keeper.View);
            foreach (var chain in RoomChains.Names)
            {
                await EraseOwnAsync(chain, own.Due(chain, policy, services.Time.GetUtcNow()), []).ConfigureAwait(false);
            }
        }).ConfigureAwait(false);
    }

    /// <summary>
    /// Erases all personal texts of one job, here, because a person asks for it; returns why it is not done, in words, or null. A person who asks
    /// answers for an alert that nobody took at the vehicle; an open job, or an alert that is open here, stays on hold.
    /// </summary>
    public async Task<string?> EraseJobAsync(string device, string job, string person, string reason)
    {
        if (!services.Receiver.Chains(device).Any(held => held.Chain == job) || job == Chains.Tablet)
        {
            return "Nothing of this job is held.";
        }

        var hold = HoldOf(device, job);
        if (hold.Ended is null || IsWatched(device, job))
        {
            return $"Nothing is erased: {(hold.Ended is null ? hold.Reason : "the job is watched, or has an alert that nobody has taken")}.";
        }

        (string, string)[] who = [("person", person), ("reason", reason)];
        await AloneAsync(async () =>
        {
            await EraseSoundAsync(device, job, who).ConfigureAwait(false);
            await EraseReceivedAsync(device, job, hold.Ended, null, who).ConfigureAwait(false);
            var own = new RoomChains(services.Journal.Store, services.Keeper.View);
            foreach (var chain in new[] { RoomChains.Watch, RoomChains.Review })
            {
                await EraseOwnAsync(chain, own.OfJob(chain, device, job), who).ConfigureAwait(false);
            }
        }).ConfigureAwait(false);
        return services.Audit.Fault;
    }

    /// <summary>Sound that was brought here is kept for the days that were announced in its job, or for fewer by the policy.</summary>
    private async Task EraseSoundAsync(RetentionPolicy? policy)
    {
        foreach (var device in services.Devices.All())
        {
            foreach (var job in services.Receiver.Chains(device.Name).Select(held => held.Chain).Where(HasSound).ToList())
            {
                var hold = HoldOf(device.Name, job);
                var days = Math.Min(RecordedSound.AnnouncedDays(Entries(device.Name, job)), policy?.Recordings ?? RetentionPolicy.MostDays);
                if (hold is { Reason: null, Ended: { } ended } && services.Time.GetUtcNow() - ended >= TimeSpan.FromDays(days))
                {
                    await EraseSoundAsync(device.Name, job, []).ConfigureAwait(false);
                }
            }
        }
    }

    private async Task EraseSoundAsync(string device, string job, (string, string)[] who)
    {
        if (HasSound(job) && await ToldAsync(new { device, chain = job, why = Why(who), texts = new { recordings = RecordedSound.Count(services.Store, job) } }, who).ConfigureAwait(false))
        {
            Directory.Delete(SoundFolder.Of(services.Store, job), recursive: true);
        }
    }

    private bool HasSound(string job) => RecordedSound.Count(services.Store, job) > 0;

    private async Task AloneAsync(Func<Task> work)
    {
        await one.WaitAsync().ConfigureAwait(false);
        try
        {
            await work().ConfigureAwait(false);
        }
        finally
        {
            one.Release();
        }
    }

    /// <summary>A tablet's own chain has no end: what stands in it counts from its own time.</summary>
    private JobHold HoldOf(string device, string chain) => chain == Chains.Tablet
        ? new JobHold(services.Time.GetUtcNow(), false)
        : JobHold.Of(Entries(device, chain)) is var hold && IsWatched(device, chain) ? hold with { HasOpenAlert = true } : hold;

    private bool IsWatched(string device, string job) =>
        services.Keeper.View.Watches.Any(watch => watch.Device == device && watch.Job == job)
        || services.Keeper.View.Alerts.Any(alert => alert.Taken is null && alert.Device == device && alert.Job == job);

    private IEnumerable<JournalEntry> Entries(string device, string chain) => services.Receiver.Read(device, chain).Select(line => ExportLine.Parse(line));

    private async Task EraseReceivedAsync(string device, string chain, DateTimeOffset? from, RetentionPolicy? policy, (string, string)[] who)
    {
        var now = services.Time.GetUtcNow();
        DateTimeOffset? FromOf(JournalEntry entry) => chain == Chains.Tablet ? entry.Time : from;
        var erasure = Erasure.Of(Entries(device, chain).Concat(Forks(device, chain)), FromOf, policy, now);
        if (erasure.IsEmpty || !await ToldAsync(new { device, chain, why = Why(who), texts = erasure.CountsByName }, who).ConfigureAwait(false))
        {
            return;
        }

        services.Receiver.EraseSealed(device, chain, entry => Erasure.Due(entry, FromOf(entry), policy, now));
    }

    private IEnumerable<JournalEntry> Forks(string device, string chain) => services.Receiver.ReadForks(device, chain).Select(line => ExportLine.Parse(line));

    private async Task EraseOwnAsync(string chain, Erasure erasure, (string, string)[] who)
    {
        if (!erasure.IsEmpty && await ToldAsync(new { chain, why = Why(who), texts = erasure.CountsByName }, who).ConfigureAwait(false))
        {
            await services.Journal.Store.EraseSealedAsync(erasure.Places).ConfigureAwait(false);
        }
    }

    /// <summary>What cannot be told is not done.</summary>
    private async Task<bool> ToldAsync(object data, (string, string)[] who)
    {
        await services.Audit.ActAsync(Erasure.EntryType, data, who).ConfigureAwait(false);
        return services.Audit.Fault is null;
    }

    private static string Why((string, string)[] who) => who.Length == 0 ? "due" : "request";
}
