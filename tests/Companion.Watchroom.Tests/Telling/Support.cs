using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using Companion.TestKit;
using Companion.Watchroom.Tests.Support;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;
using SmtpServer;
using SmtpServer.Authentication;
using SmtpServer.ComponentModel;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace Companion.Watchroom.Tests.Telling;

/// <summary>A real mail server on this machine.</summary>
internal sealed class MailReceiver : MessageStore, IAsyncDisposable
{
    /// <summary>Who signs in where a server asks for it.</summary>
    public const string User = "watchroom";

    private readonly CancellationTokenSource end = new();
    private readonly Task running;

    /// <summary>Starts it.</summary>
    /// <param name="certificate">What it shows: by STARTTLS, unless <paramref name="isTlsFromTheFirstByte"/>; null for a connection that is not encrypted.</param>
    /// <param name="isTlsFromTheFirstByte">True for TLS before the greeting.</param>
    /// <param name="password">Without it, nothing is taken from anybody.</param>
    public MailReceiver(X509Certificate2? certificate = null, bool isTlsFromTheFirstByte = false, string? password = null)
    {
        var options = new SmtpServerOptionsBuilder()
            .ServerName("localhost")
            .Endpoint(endpoint =>
            {
                endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, Port)).IsSecure(isTlsFromTheFirstByte);
                endpoint.AuthenticationRequired(password is not null).AllowUnsecureAuthentication(certificate is null);
                if (certificate is not null)
                {
                    endpoint.Certificate(certificate);
                }
            })
            .Build();
        var services = new SmtpServer.ComponentModel.ServiceProvider();
        services.Add(this);
        services.Add(new DelegatingUserAuthenticator((user, given) => user == User && given == password));
        running = new SmtpServer.SmtpServer(options, services).StartAsync(end.Token);
    }

    public int Port { get; } = QuietPort.Next();

    public ConcurrentQueue<MimeMessage> Messages { get; } = new();

    public string Config => $$"""{"host":"127.0.0.1","port":{{Port}},"from":"watch@example.invalid","security":"none"}""";

    /// <summary>True for each message that came over TLS.</summary>
    public ConcurrentQueue<bool> Encrypted { get; } = new();

    /// <summary>mail.json for a server with TLS: by name, as its certificate has it.</summary>
    public string ConfigWith(string security, string? passwordFile = null) => passwordFile is null
        ? $$"""{"host":"localhost","port":{{Port}},"from":"watch@example.invalid","security":"{{security}}"}"""
        : $$"""{"host":"localhost","port":{{Port}},"from":"watch@example.invalid","security":"{{security}}","user":"{{User}}","passwordfile":"{{passwordFile}}"}""";

    public override async Task<SmtpResponse> SaveAsync(
        ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
    {
        Encrypted.Enqueue(context.Pipe.IsSecure);
        using var stream = new MemoryStream(buffer.ToArray());
        Messages.Enqueue(await MimeMessage.LoadAsync(stream, cancellationToken));
        return SmtpResponse.Ok;
    }

    public async ValueTask DisposeAsync()
    {
        await end.CancelAsync();
        await running;
        end.Dispose();
    }
}

/// <summary>A web address on this machine that checks what it gets as a receiver does.</summary>
internal sealed class WebhookReceiver : IAsyncDisposable
{
    public const string Secret = "0123456789abcdef0123456789abcdef";
    private readonly WebApplication app;

    private WebhookReceiver(WebApplication app) => this.app = app;

    /// <summary>How many requests are answered 503 before one is taken.</summary>
    public int Failing { get; set; }

    /// <summary>How the next requests are answered, in order, before any is taken.</summary>
    public ConcurrentQueue<Func<HttpContext, Task>> Next { get; } = new();

    public ConcurrentQueue<(string Id, string Body, bool Genuine)> Received { get; } = new();

    public string Address { get; private set; } = string.Empty;

    public static async Task<WebhookReceiver> StartAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, 0));
        var receiver = new WebhookReceiver(builder.Build());
        receiver.app.MapPost("/told", receiver.TakeAsync);
        await receiver.app.StartAsync();
        receiver.Address = receiver.app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First() + "/told";
        return receiver;
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task TakeAsync(HttpContext context)
    {
        using var reader = new StreamReader(context.Request.Body, Encoding.UTF8);
        var body = await reader.ReadToEndAsync();
        var id = context.Request.Headers["Companion-Id"].ToString();
        var signed = $"{context.Request.Headers["Companion-Timestamp"]}.{id}.{body}";
        var expected = System.Security.Cryptography.HMACSHA256.HashData(Encoding.UTF8.GetBytes(Secret), Encoding.UTF8.GetBytes(signed));
        Received.Enqueue((id, body, Convert.ToHexStringLower(expected) == context.Request.Headers["Companion-Signature"]));
        if (Next.TryDequeue(out var answer))
        {
            await answer(context);
            return;
        }

        context.Response.StatusCode = Received.Count > Failing ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable;
    }
}

/// <summary>A siren that keeps what it is given.</summary>
internal static class Siren
{
    /// <summary>Its command, and the file with what it heard.</summary>
    public static async Task<(string Command, string Heard)> MakeAsync(WatchroomRig rig)
    {
        var (command, heard) = (Path.Combine(rig.Store, "siren"), Path.Combine(rig.Store, "heard"));
        await File.WriteAllTextAsync(command, $"#!/bin/sh\ncat >> '{heard}'\n");
        File.SetUnixFileMode(command, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        return (command, heard);
    }
}
