using System.Security.Cryptography;
using System.Text;
using Companion.Engine.Ports;

namespace Companion.Watchroom.Access;

/// <summary>
/// Wrong passwords by name, in the file lockouts.json, so that a restart gives a guesser no fresh start. Names that nobody has are counted in the same
/// way, so that no answer and no time tells them apart; they stand there only as salted hashes, because people type passwords into the wrong field.
/// Counted by boot time, which goes on over restarts of the program and which nobody can set; after a reboot, when it is not known how long
/// ago something was, a lock-out begins again in full. Callable from any thread.
/// </summary>
internal sealed class LockOuts
{
    /// <summary>Most names of people that are kept; the oldest are forgotten.</summary>
    public const int MostPeople = 1000;

    /// <summary>Most other names that are kept: strangers must not fill the file, nor push people out of it.</summary>
    public const int MostStrangers = 200;

    private const int SaltBytes = 16;
    private readonly Lock gate = new();
    private readonly IClock clock;
    private readonly KeptFile<Kept> file;
    private Kept kept;

    public LockOuts(string store, IClock clock)
    {
        this.clock = clock;
        kept = new Kept(Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(SaltBytes)), []);
        file = new KeptFile<Kept>(Path.Combine(store, "lockouts.json"), kept);
        try
        {
            kept = file.Read();
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            Fault = Words(cause);
        }
    }

    /// <summary>Why wrong passwords are counted in memory only, in plain words; null while they are kept.</summary>
    public string? Fault { get; private set; }

    /// <summary>Counts an attempt. True when the password was right and the name is not locked.</summary>
    /// <param name="name">The name that was given.</param>
    /// <param name="isPerson">True when somebody has that name.</param>
    /// <param name="isRight">True when the password is that person's.</param>
    public bool Admit(string name, bool isPerson, bool isRight)
    {
        lock (gate)
        {
            var now = clock.Now();
            var key = KeyOf(name);
            var known = Array.Find(kept.Names, one => one.Key == key) ?? new Counted(key, isPerson, 0, now.BootId, null);
            if (known is { Until: { } until } && (known.Boot != now.BootId || until > now.Boot.Nanoseconds))
            {
                if (known.Boot != now.BootId)
                {
                    Keep(known with { Boot = now.BootId, Until = LockedUntil(now.Boot.Nanoseconds) });
                }

                return false;
            }

            if (!isRight)
            {
                var failures = known.Until is null ? known.Failures + 1 : 1;
                Keep(new Counted(key, isPerson, failures, now.BootId, failures >= People.MostFailures ? LockedUntil(now.Boot.Nanoseconds) : null));
            }
            else if (known.Failures > 0)
            {
                Write(kept with { Names = [.. kept.Names.Where(one => one.Key != key)] });
            }

            return isRight;
        }
    }

    private static long LockedUntil(long nanoseconds) => nanoseconds + ((long)People.LockOut.TotalSeconds * 1_000_000_000);

    private void Keep(Counted counted)
    {
        var names = kept.Names.Where(one => one.Key != counted.Key).Append(counted).ToArray();
        Write(kept with { Names = [.. names.Where(one => one.IsPerson).TakeLast(MostPeople), .. names.Where(one => !one.IsPerson).TakeLast(MostStrangers)] });
    }

    /// <summary>Nobody is kept from the board by a full disk, and no guesser is let in by one: what cannot be written counts in memory.</summary>
    private void Write(Kept next)
    {
        kept = next;
        try
        {
            file.Change(_ => (next, true));
            Fault = null;
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            Fault = Words(cause);
        }
    }

    private static string Words(Exception cause) => $"Wrong passwords are counted in memory only, until the next start: {cause.Message}";

    private string KeyOf(string name) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(kept.Salt + name.ToUpperInvariant())));

    private sealed record Kept(string Salt, Counted[] Names);

    /// <summary>A name's wrong passwords in a row, and until when it is locked, in nanoseconds of the boot time of that boot; null when it is not.</summary>
    private sealed record Counted(string Key, bool IsPerson, int Failures, string Boot, long? Until);
}
