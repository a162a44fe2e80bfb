using System.Net.Sockets;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace Companion.Watchroom.Telling;

/// <summary>Tells by e-mail. The message id is the telling's, so that a second copy is known as one.</summary>
internal sealed class EmailChannel : IChannel
{
    /// <inheritdoc/>
    public async Task TellAsync(Telling telling, RingRound round, CancellationToken cancellation)
    {
        var server = round.Mail ?? throw new NotToldException("There is no mail server.");
        using var client = new SmtpClient();
        try
        {
            await client.ConnectAsync(server.Host, server.Port, SecurityOf(server.Security), cancellation).ConfigureAwait(false);
            if (server.User is { } user)
            {
                await client.AuthenticateAsync(user, round.Password ?? string.Empty, cancellation).ConfigureAwait(false);
            }

            await client.SendAsync(Message(telling, server), cancellation).ConfigureAwait(false);
            await QuitAsync(client, cancellation).ConfigureAwait(false);
        }
        catch (Exception cause) when (cause is IOException or SocketException or CommandException or ProtocolException or AuthenticationException
            or SslHandshakeException or NotSupportedException)
        {
            throw new NotToldException($"The mail server did not take it: {cause.Message}", cause);
        }
    }

    /// <summary>The message is taken already: a server that hangs up without a word must not have it sent twice.</summary>
    private static async Task QuitAsync(SmtpClient client, CancellationToken cancellation)
    {
        try
        {
            await client.DisconnectAsync(quit: true, cancellation).ConfigureAwait(false);
        }
        catch (Exception cause) when (cause is IOException or SocketException or CommandException or ProtocolException or OperationCanceledException)
        {
            client.Dispose();
        }
    }

    private static MimeMessage Message(Telling telling, MailServer server)
    {
        var message = new MimeMessage
        {
            Subject = TellingWords.Subject(telling.Alert),
            Body = new TextPart("plain") { Text = TellingWords.Body(telling.Alert, telling.Position, telling.At) },
            MessageId = $"{telling.Id}@companion.invalid",
            Date = telling.Alert.Raised,
            Priority = MessagePriority.Urgent,
        };
        message.From.Add(MailboxAddress.Parse(server.From));
        message.To.Add(MailboxAddress.Parse(telling.Target.Address));
        return message;
    }

    private static SecureSocketOptions SecurityOf(MailSecurity security) => security switch
    {
        MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
        MailSecurity.StartTls => SecureSocketOptions.StartTls,
        _ => SecureSocketOptions.None,
    };
}
