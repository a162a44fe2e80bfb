using System.Security.Cryptography;
using Microsoft.AspNetCore.Identity;

namespace Companion.Watchroom.Access;

/// <summary>Who may sign in, in the file people.json. Passwords are kept as ASP.NET Core's hasher makes them. Callable from any thread.</summary>
internal sealed class People
{
    /// <summary>Wrong passwords in a row until the person is locked out.</summary>
    public const int MostFailures = 5;

    /// <summary>Shortest password: length is what protects it.</summary>
    public const int ShortestPassword = 12;

    /// <summary>Longest password that is looked at: hashing more would only cost time.</summary>
    public const int LongestPassword = 200;

    private const int LongestName = 60;

    /// <summary>How long a lock-out lasts. Sessions that are open go on: a guesser must not keep the room from working.</summary>
    public static readonly TimeSpan LockOut = TimeSpan.FromMinutes(5);

    private static readonly PasswordHasher<string> Hasher = new();

    /// <summary>Looked at in place of a person who does not exist.</summary>
    private static readonly Lazy<string> Nobody = new(() => Hasher.HashPassword(string.Empty, NewPassword()));

    private readonly KeptFile<Person[]> file;
    private readonly LockOuts lockOuts;

    public People(string store, TimeProvider time)
    {
        file = new KeptFile<Person[]>(Path.Combine(store, "people.json"), []);
        lockOuts = new LockOuts(store, new WatchroomClock(time));
    }

    /// <summary>Why lock-outs would not outlive a restart, in plain words; null while they would.</summary>
    public string? Fault => lockOuts.Fault;

    /// <summary>A password that nobody guesses: 80 bits in groups that can be read out.</summary>
    public static string NewPassword() => string.Join('-', Enumerable.Range(0, 4).Select(_ => RandomNumberGenerator.GetHexString(5, lowercase: true)));

    /// <summary>The person of that name; null when there is none.</summary>
    public Person? Find(string name) => Array.Find(file.Read(), person => string.Equals(person.Name, name, StringComparison.OrdinalIgnoreCase));

    /// <summary>Adds a person, or gives one a new password and role: their sessions end. Returns what is wrong, or null.</summary>
    public string? Set(string name, Role role, string password)
    {
        if (name.Length is 0 or > LongestName || name != name.Trim() || name.Any(char.IsControl))
        {
            return $"A name has 1 to {LongestName} letters, without spaces around it.";
        }

        if (password.Length is < ShortestPassword or > LongestPassword)
        {
            return $"A password has {ShortestPassword} to {LongestPassword} characters. Take several words.";
        }

        var person = new Person(name, role, Hasher.HashPassword(name, password), Guid.NewGuid().ToString("N"));
        return file.Change<string?>(people => ([.. people.Where(other => !IsNamed(other, name)), person], null));
    }

    /// <summary>Removes a person: their sessions end. False when there is no such person.</summary>
    public bool Remove(string name) => file.Change(people => people.Any(other => IsNamed(other, name))
        ? (people.Where(other => !IsNamed(other, name)).ToArray(), true)
        : (people, false));

    /// <summary>
    /// The person, when the password is theirs and they are not locked out; else null. All answers cost the same time, so that names cannot be
    /// found out.
    /// </summary>
    public Person? SignIn(string name, string password)
    {
        var person = Find(name);
        if (password.Length > LongestPassword)
        {
            return null;
        }

        var right = Hasher.VerifyHashedPassword(name, person?.Hash ?? Nobody.Value, password) != PasswordVerificationResult.Failed;
        return lockOuts.Admit(name, person is not null, right && person is not null) ? person : null;
    }

    private static bool IsNamed(Person person, string name) => string.Equals(person.Name, name, StringComparison.OrdinalIgnoreCase);
}
