using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Companion.Watchroom.Telling;

/// <summary>
/// Reads the ring-round from the watch room's store, again whenever one of its files changed. A file that is broken by hand, or that a failing disk
/// no longer gives, changes nothing while what it held before is known: whoever must be told of a failing disk must not be forgotten with it (I16).
/// Used by one thread.
/// </summary>
internal sealed class RingRoundReader(string store)
{
    private const int Most = 50;
    private const int LongestDelaySeconds = 3600;
    private const int ShortestSecret = 32;

    private static readonly JsonSerializerOptions Json = new()
    {
        PropertyNameCaseInsensitive = true,
        RespectRequiredConstructorParameters = true,
        RespectNullableAnnotations = true,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };

    private readonly List<string> faults = [];
    private RingTarget[]? targets;
    private MailServer? mail;
    private string? password;
    private byte[]? secret;
    private (DateTime Written, long Length)[] stamp = [];

    /// <summary>True when a file was written since the last reading. What cannot be looked at has not changed.</summary>
    public bool HasChanged()
    {
        try
        {
            return !StampNow().SequenceEqual(stamp);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    /// <summary>The ring-round now. Never throws: what is wrong stands among its faults, and the rest is used.</summary>
    public RingRound Read()
    {
        faults.Clear();

        // Before the files are read: what is written meanwhile is read the next time.
        stamp = Stamped();
        mail = Part(RingRound.MailFile, mail, Parse<MailServer>);
        password = mail?.PasswordFile is { } file ? Part(file, password, text => text.Trim()) : null;
        secret = Part(RingRound.SecretFile, secret, text => text.Trim() is { Length: >= ShortestSecret } enough ? Encoding.UTF8.GetBytes(enough) : null);
        targets = Part(RingRound.TargetsFile, targets, Parse<RingTarget[]>);
        if (targets is null && !faults.Exists(fault => fault.StartsWith(RingRound.TargetsFile, StringComparison.Ordinal)))
        {
            faults.Add($"Nobody outside is told of alerts: {RingRound.TargetsFile} is not in the store. Write it.");
        }

        return new RingRound(Usable(targets ?? []), mail, password, secret, [.. faults]);
    }

    private List<RingTarget> Usable(RingTarget[] written)
    {
        if (written.Length > Most)
        {
            faults.Add($"{RingRound.TargetsFile} names {written.Length} targets; only the first {Most} are told.");
        }

        var told = new List<RingTarget>();
        foreach (var target in written.Take(Most))
        {
            var fault = FaultOf(target) ?? (told.Exists(other => other.Name == target.Name) ? "another has the same name. Give each its own" : null);
            if (fault is null)
            {
                told.Add(target);
            }
            else
            {
                faults.Add($"{RingRound.TargetsFile}: '{target.Name}' is not told: {fault}.");
            }
        }

        return told;
    }

    private string? FaultOf(RingTarget target) => target switch
    {
        { Name: "" } => "it has no name. Give it one",
        { AfterSec: < 0 or > LongestDelaySeconds } => $"aftersec is 0 to {LongestDelaySeconds}",
        { Channel: RingChannel.Email } when mail is null => $"{RingRound.MailFile} names no mail server. Write it",
        { Channel: RingChannel.Email } when mail.PasswordFile is { } file && password is null => $"the mail server's password is not in {file}. Write it",
        { Channel: RingChannel.Email } => MailServer.IsMailbox(target.Address) ? null : "the address is no mailbox",
        { Channel: RingChannel.Webhook } when secret is null => $"{RingRound.SecretFile} holds no secret. Put {ShortestSecret} or more random characters into it",
        { Channel: RingChannel.Webhook } => IsWebAddress(target.Address) ? null : "the address must begin with https://",
        _ => Path.IsPathFullyQualified(target.Address) && File.Exists(target.Address) ? null : "there is no command of that path",
    };

    /// <summary>Alerts name people and places: they cross a network only encrypted.</summary>
    private static bool IsWebAddress(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var address) && (address.Scheme == Uri.UriSchemeHttps || (address.Scheme == Uri.UriSchemeHttp && address.IsLoopback));

    /// <summary>A part as its file holds it; null when there is no such file; as it was before when the file cannot be used.</summary>
    private T? Part<T>(string name, T? before, Func<string, T?> parse)
        where T : class
    {
        try
        {
            var path = Path.Combine(store, name);
            return File.Exists(path) ? parse(File.ReadAllText(path))
                : Directory.Exists(Path.GetDirectoryName(path)) ? null
                : throw new DirectoryNotFoundException("Its folder is not there.");
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or JsonException)
        {
            faults.Add($"{name} cannot be used: {fault.Message}{(before is null ? string.Empty : " What it held before is used.")}");
            return before;
        }
    }

    private static T? Parse<T>(string text) => JsonSerializer.Deserialize<T>(text, Json);

    private (DateTime Written, long Length)[] Stamped()
    {
        try
        {
            return StampNow();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return stamp;
        }
    }

    /// <summary>The time alone does not tell two writings within one tick of the file system's clock, some milliseconds, apart.</summary>
    private (DateTime Written, long Length)[] StampNow() =>
    [
        .. new[] { RingRound.TargetsFile, RingRound.MailFile, RingRound.SecretFile, mail?.PasswordFile }
            .OfType<string>().Select(name => new FileInfo(Path.Combine(store, name))).Select(file => (file.LastWriteTimeUtc, file.Exists ? file.Length : -1)),
    ];
}
