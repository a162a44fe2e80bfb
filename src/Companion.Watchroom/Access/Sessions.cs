using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;

namespace Companion.Watchroom.Access;

/// <summary>
/// Who is signed in. The browser holds a random number, the file sessions.json its hash: signing out ends the session here, so that a
/// copied cookie opens nothing afterwards. They outlive a restart, so that a board on the wall goes on; what the disk does not take lies in memory,
/// because nobody may be kept from the board by a full disk. Callable from any thread.
/// </summary>
internal sealed class Sessions(string store, People people, TimeProvider time)
{
    /// <summary>A shift and its hand-over; then the person signs in again.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromHours(14);

    private const int Most = 200;

    /// <summary>Sessions of one person: whoever signs in again and again ends only their own.</summary>
    private const int MostOfOne = 20;

    private const int Bytes = 32;
    private readonly KeptFile<Session[]> file = new(Path.Combine(store, "sessions.json"), []);
    private readonly Lock gate = new();
    private volatile Session[] unwritten = [];
    private volatile ImmutableHashSet<string> ended = [];

    /// <summary>Begins a session and returns what the cookie carries. The oldest end when there are too many.</summary>
    public string Begin(Person person)
    {
        var cookie = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(Bytes));
        var session = new Session(HashOf(cookie), person.Name, person.Stamp, time.GetUtcNow() + Longest);
        if (!TryChange(sessions => With(sessions, session)))
        {
            lock (gate)
            {
                unwritten = With(unwritten, session);
            }
        }

        return cookie;
    }

    /// <summary>The person whose session this is; null when it has ended, or the person's password, role or place here has changed.</summary>
    public Person? Find(string? cookie)
    {
        if (cookie is not { Length: Bytes * 2 })
        {
            return null;
        }

        var hash = HashOf(cookie);
        var session = Array.Find(file.Read(), known => known.Hash == hash) ?? Array.Find(unwritten, known => known.Hash == hash);
        return session is null || ended.Contains(hash) || !IsOpen(session) || people.Find(session.Person) is not { } person || person.Stamp != session.Stamp ? null : person;
    }

    /// <summary>Ends a session for good.</summary>
    public void End(string cookie)
    {
        var hash = HashOf(cookie);
        var isWritten = TryChange(sessions => [.. sessions.Where(session => session.Hash != hash)]);
        lock (gate)
        {
            unwritten = [.. unwritten.Where(session => session.Hash != hash)];
            ended = isWritten ? ended : ended.Add(hash);
        }
    }

    private Session[] With(Session[] sessions, Session session)
    {
        var open = sessions.Where(IsOpen).ToList();
        var own = open.Where(other => other.Person == session.Person).SkipLast(MostOfOne - 1).ToHashSet();
        return [.. open.Where(other => !own.Contains(other)).TakeLast(Most - 1), session];
    }

    private bool TryChange(Func<Session[], Session[]> change)
    {
        try
        {
            return file.Change(sessions => (change(sessions), true));
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    private bool IsOpen(Session session) => session.Until > time.GetUtcNow();

    private static string HashOf(string cookie) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(cookie)));

    private sealed record Session(string Hash, string Person, string Stamp, DateTimeOffset Until);
}
