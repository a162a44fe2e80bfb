using System.Security.Cryptography;
using System.Text;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Telling;

/// <summary>
/// What is amiss with the watch room itself, and who has taken note of it. Notes lie in memory: after a restart a trouble that lasts sounds anew. One that
/// was gone for less than <see cref="OwnTrouble.Settled"/> is still the same. Callable from any thread.
/// </summary>
/// <param name="present">What is amiss now, as far as anybody has noted nothing.</param>
/// <param name="time">The watch room's clock.</param>
internal sealed class RoomTroubles(Func<IEnumerable<RoomTrouble>> present, TimeProvider time)
{
    /// <summary>How every word begins of a record that is not kept; what follows may change while it is the same trouble.</summary>
    public const string NotRecorded = "Nothing is being recorded";

    private const int IdLength = 16;
    private readonly Lock gate = new();
    private readonly Dictionary<string, (DateTimeOffset Seen, Noted? Noted)> known = [];

    /// <summary>All that can be amiss, without notes.</summary>
    /// <param name="faults">What the parts say of themselves.</param>
    /// <param name="teller">Who is rung about it, and who cannot be told.</param>
    /// <param name="view">When nobody watched; what was before <paramref name="began"/> had its own start to be noted in.</param>
    /// <param name="began">When this watch room started.</param>
    public static IEnumerable<RoomTrouble> Of(IEnumerable<string> faults, Teller teller, WatchView view, DateTimeOffset began) =>
    [
        .. teller.Own.Select(alert => new RoomTrouble(Id(alert.Id), TellingWords.Title(alert.Kind), null) { Alert = alert }),
        .. faults.GroupBy(fault => fault.StartsWith(NotRecorded, StringComparison.Ordinal) ? NotRecorded : fault)
            .Select(same => new RoomTrouble(Id(same.Key), string.Join(' ', same), null)),
        .. teller.NotReached.Select(one => new RoomTrouble(Id($"target {one.Target}"), one.Words, null) { OfTelling = true }),
        .. view.Blind.Where(blind => blind.To >= began).Select(blind => new RoomTrouble(Id($"blind {blind.To:O}"), TellingWords.Blind(blind), null) { IsPast = true }),
    ];

    /// <summary>What is amiss now, what nobody has noted first. What is past is there until it is noted.</summary>
    public IReadOnlyList<RoomTrouble> Now()
    {
        lock (gate)
        {
            var now = time.GetUtcNow();
            var all = present().DistinctBy(trouble => trouble.Id).Select(trouble => trouble with { Noted = known.GetValueOrDefault(trouble.Id).Noted }).ToList();
            all.ForEach(trouble => known[trouble.Id] = (now, trouble.Noted));
            foreach (var id in known.Where(one => now - one.Value.Seen >= OwnTrouble.Settled).Select(one => one.Key).ToList())
            {
                known.Remove(id);
            }

            return [.. all.Where(trouble => trouble is not { IsPast: true, Noted: not null }).OrderBy(trouble => trouble.Noted is not null)];
        }
    }

    /// <summary>A named person takes note; the words of what that was the first note of.</summary>
    public IReadOnlyList<string> Note(IReadOnlyCollection<string> ids, string person)
    {
        lock (gate)
        {
            var fresh = Now().Where(trouble => trouble.Noted is null && ids.Contains(trouble.Id)).ToList();
            fresh.ForEach(trouble => known[trouble.Id] = (known[trouble.Id].Seen, new Noted(person, time.GetUtcNow())));
            return [.. fresh.Select(trouble => trouble.Words)];
        }
    }

    private static string Id(string key) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(key)))[..IdLength];
}
