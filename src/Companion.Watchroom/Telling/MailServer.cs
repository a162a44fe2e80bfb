using MimeKit;

namespace Companion.Watchroom.Telling;

/// <summary>How a connection to the mail server is kept from listeners.</summary>
public enum MailSecurity
{
    /// <summary>TLS from the first byte.</summary>
    Tls,

    /// <summary>TLS after the greeting; without it nothing is sent.</summary>
    StartTls,

    /// <summary>None: only for a server on this machine.</summary>
    None,
}

/// <summary>The mail server, as mail.json names it.</summary>
/// <param name="Host">Its name.</param>
/// <param name="Port">Its port.</param>
/// <param name="From">The mailbox that the watch room writes from.</param>
/// <param name="Security">How the connection is kept from listeners.</param>
/// <param name="User">Who signs in; null when nobody has to.</param>
/// <param name="PasswordFile">The file with that user's password.</param>
internal sealed record MailServer(string Host, int Port, string From, MailSecurity Security, string? User = null, string? PasswordFile = null)
{
    /// <summary>True for "name@host".</summary>
    public static bool IsMailbox(string text) => MailboxAddress.TryParse(text, out var mailbox) && mailbox.Address == text && text.Contains('@', StringComparison.Ordinal);
}
