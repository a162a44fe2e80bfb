using System.Text.Json;
using System.Text.Json.Serialization;

namespace Companion.Watchroom.Telling;

/// <summary>By what somebody is told.</summary>
public enum RingChannel
{
    /// <summary>An e-mail; the address is the mailbox.</summary>
    Email,

    /// <summary>A signed POST; the address is an https address, or an http one on this machine.</summary>
    Webhook,

    /// <summary>A command on this machine; the address is its whole path.</summary>
    Siren,
}

/// <summary>One whom the watch room tells.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="Channel">By what.</param>
/// <param name="Address">Where.</param>
/// <param name="AfterSec">Seconds after the alert was raised; nobody is told who took it before that.</param>
internal sealed record RingTarget(string Name, RingChannel Channel, string Address, int AfterSec);

/// <summary>Whom the watch room tells, in which order, after how long, and what of it cannot be done.</summary>
/// <param name="Targets">Those who can be told.</param>
/// <param name="Mail">The mail server; null when there is none.</param>
/// <param name="Secret">Signs webhooks; null when there is none.</param>
/// <param name="Faults">In plain words, with what to do.</param>
internal sealed record RingRound(IReadOnlyList<RingTarget> Targets, MailServer? Mail, byte[]? Secret, IReadOnlyList<string> Faults)
{
    /// <summary>The file with the targets.</summary>
    public const string TargetsFile = "ringround.json";

    /// <summary>The file with the mail server.</summary>
    public const string MailFile = "mail.json";

    /// <summary>The file with the secret that webhooks are signed with.</summary>
    public const string SecretFile = "webhook.secret";

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

    /// <summary>Reads it from the store. Never throws: what is wrong stands among the faults, and the rest is used.</summary>
    public static RingRound Read(string store)
    {
        var faults = new List<string>();
        var mail = ReadFile<MailServer>(store, MailFile, faults, missing: null);
        var secret = ReadSecret(Path.Combine(store, SecretFile), faults);
        var written = ReadFile<RingTarget[]>(store, TargetsFile, faults, missing: $"Nobody outside is told of alerts: {TargetsFile} is not in the store. Write it.") ?? [];
        if (written.Length > Most)
        {
            faults.Add($"{TargetsFile} names {written.Length} targets; only the first {Most} are told.");
        }

        var targets = new List<RingTarget>();
        foreach (var target in written.Take(Most))
        {
            var fault = FaultOf(target, mail, secret) ?? (targets.Any(other => other.Name == target.Name) ? "another has the same name. Give each its own" : null);
            if (fault is null)
            {
                targets.Add(target);
            }
            else
            {
                faults.Add($"{TargetsFile}: '{target.Name}' is not told: {fault}.");
            }
        }

        return new RingRound(targets, mail, secret, faults);
    }

    private static string? FaultOf(RingTarget target, MailServer? mail, byte[]? secret) => target switch
    {
        { Name: "" } => "it has no name. Give it one",
        { AfterSec: < 0 or > LongestDelaySeconds } => $"aftersec is 0 to {LongestDelaySeconds}",
        { Channel: RingChannel.Email } when mail is null => $"{MailFile} names no mail server. Write it",
        { Channel: RingChannel.Email } => MailServer.IsMailbox(target.Address) ? null : "the address is no mailbox",
        { Channel: RingChannel.Webhook } when secret is null => $"{SecretFile} holds no secret. Put {ShortestSecret} or more random characters into it",
        { Channel: RingChannel.Webhook } => IsWebAddress(target.Address) ? null : "the address must begin with https://",
        _ => Path.IsPathFullyQualified(target.Address) && File.Exists(target.Address) ? null : "there is no command of that path",
    };

    /// <summary>Alerts name people and places: they cross a network only encrypted.</summary>
    private static bool IsWebAddress(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var address) && (address.Scheme == Uri.UriSchemeHttps || (address.Scheme == Uri.UriSchemeHttp && address.IsLoopback));

    private static byte[]? ReadSecret(string path, List<string> faults)
    {
        try
        {
            var secret = File.Exists(path) ? File.ReadAllText(path).Trim() : null;
            return secret is { Length: >= ShortestSecret } ? System.Text.Encoding.UTF8.GetBytes(secret) : null;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            faults.Add($"{SecretFile} cannot be read: {fault.Message}");
            return null;
        }
    }

    private static T? ReadFile<T>(string store, string name, List<string> faults, string? missing)
        where T : class
    {
        try
        {
            var path = Path.Combine(store, name);
            if (File.Exists(path))
            {
                return JsonSerializer.Deserialize<T>(File.ReadAllBytes(path), Json);
            }

            if (missing is not null)
            {
                faults.Add(missing);
            }
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or JsonException)
        {
            faults.Add($"{name} cannot be used: {fault.Message}");
        }

        return null;
    }
}
