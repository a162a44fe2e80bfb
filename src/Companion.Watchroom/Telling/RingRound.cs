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
/// <param name="Password">The password of the mail server's user; null when there is none that can be read.</param>
/// <param name="Secret">Signs webhooks; null when there is none.</param>
/// <param name="Faults">In plain words, with what to do.</param>
internal sealed record RingRound(IReadOnlyList<RingTarget> Targets, MailServer? Mail, string? Password, byte[]? Secret, IReadOnlyList<string> Faults)
{
    /// <summary>The file with the targets.</summary>
    public const string TargetsFile = "ringround.json";

    /// <summary>The file with the mail server.</summary>
    public const string MailFile = "mail.json";

    /// <summary>The file with the secret that webhooks are signed with.</summary>
    public const string SecretFile = "webhook.secret";
}
