using System.Globalization;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Identity;

namespace Companion.Watchroom.Access;

/// <summary>One-time codes that introduce a tablet, in the file paircodes.json, hashed as passwords are. Callable from any thread.</summary>
internal sealed class PairCodes(string store, TimeProvider time)
{
    /// <summary>How long a code can be used.</summary>
    public static readonly TimeSpan Lasts = TimeSpan.FromMinutes(10);

    /// <summary>Wrong codes until every open one is withdrawn: ten guesses at 100,000,000.</summary>
    public const int MostFailures = 10;

    private const int MostOpen = 5;
    private const int Codes = 100_000_000;
    private readonly PasswordHasher<string> hasher = new();
    private readonly KeptFile<Kept> file = new(Path.Combine(store, "paircodes.json"), new Kept([], 0));

    /// <summary>A new code; the oldest is withdrawn when there are too many.</summary>
    public string New()
    {
        var code = RandomNumberGenerator.GetInt32(Codes).ToString("00000000", CultureInfo.InvariantCulture);
        var open = new OpenCode(hasher.HashPassword(string.Empty, code), time.GetUtcNow() + Lasts);
        return file.Change(kept => (new Kept([.. kept.Open.Where(IsOpen).TakeLast(MostOpen - 1), open], 0), code));
    }

    /// <summary>Uses a code up. False when it is none, was used, or is too old.</summary>
    public bool Use(string code) => file.Change(kept =>
    {
        var open = kept.Open.Where(IsOpen).ToArray();
        var found = Array.Find(open, one => hasher.VerifyHashedPassword(string.Empty, one.Hash, code) != PasswordVerificationResult.Failed);
        if (found is not null)
        {
            return (new Kept([.. open.Where(one => one != found)], 0), true);
        }

        var failures = kept.Failures + 1;
        return open.Length == 0 ? (kept, false) : (new Kept(failures >= MostFailures ? [] : open, failures), false);
    });

    private bool IsOpen(OpenCode code) => code.Until > time.GetUtcNow();

    private sealed record Kept(OpenCode[] Open, int Failures);

    private sealed record OpenCode(string Hash, DateTimeOffset Until);
}
