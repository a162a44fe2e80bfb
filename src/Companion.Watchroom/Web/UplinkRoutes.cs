using System.Text.Json;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Engine.Ports;
using Companion.Watchroom.Access;
using Companion.Watchroom.Receiving;
using Microsoft.AspNetCore.Http.Features;

namespace Companion.Watchroom.Web;

/// <summary>What tablets send: introductions, beats, batches of their record.</summary>
internal sealed class UplinkRoutes(UplinkServices services, UplinkGate gate)
{
    private const string LaterSeconds = "5";

    /// <summary>Maps them. No limit of requests stands before a beat.</summary>
    public void Map(IEndpointRouteBuilder routes)
    {
        routes.MapPost(UplinkFormat.BeatPath, BeatAsync);
        routes.MapPost(UplinkFormat.PairPath, PairAsync).RequireRateLimiting(Limits.Pairing);
        routes.MapPost(UplinkFormat.BatchPath, BatchAsync).RequireRateLimiting(Limits.Batch);
    }

    /// <summary>A beat.</summary>
    public async Task BeatAsync(HttpContext context)
    {
        if (await gate.AdmitAsync(context, UplinkFormat.LargestBeat).ConfigureAwait(false) is not { } admitted)
        {
            return;
        }

        var name = admitted.Device.Name;
        if (Parse<Beat>(admitted.Body) is not { } beat)
        {
            await RefuseAsync(context, name, "form", 400, "The body is no beat of this version.").ConfigureAwait(false);
            return;
        }

        try
        {
            await Answers.WriteAsync(context, await services.Keeper.BeatAsync(name, beat).ConfigureAwait(false)).ConfigureAwait(false);
        }
        catch (ArgumentException fault)
        {
            await RefuseAsync(context, name, "form", 400, fault.Message).ConfigureAwait(false);
        }
        catch (StoreFaultException)
        {
            await NotStoredAsync(context, name, "The watch room cannot keep it now. Send the next beat.").ConfigureAwait(false);
        }
    }

    /// <summary>Entries of one chain.</summary>
    public async Task BatchAsync(HttpContext context)
    {
        context.Features.Get<IHttpMaxRequestBodySizeFeature>()!.MaxRequestBodySize = null;
        if (await gate.AdmitAsync(context, UplinkFormat.LargestBatch).ConfigureAwait(false) is not { } admitted)
        {
            return;
        }

        var (device, body) = admitted;
        var receipt = await services.Receiver.TakeAsync(device.Name, device.Tablet, body).ConfigureAwait(false);
        if (receipt.Answer?.Chain == Chains.Tablet)
        {
            services.Arrived(device.Name);
        }

        switch (receipt.Outcome)
        {
            case ReceiptOutcome.Taken:
                await Answers.WriteAsync(context, receipt.Answer!).ConfigureAwait(false);
                break;
            case ReceiptOutcome.Gap:
                services.Audit.Refused(device.Name, "gap", 409, receipt.Reason);
                await Answers.WriteAsync(context, receipt.Answer!, 409).ConfigureAwait(false);
                break;
            case ReceiptOutcome.Fork:
                await RefuseAsync(context, device.Name, "fork", 409, receipt.Reason).ConfigureAwait(false);
                break;
            case ReceiptOutcome.WrongVersion:
                await RefuseAsync(context, device.Name, "version", 400, receipt.Reason).ConfigureAwait(false);
                break;
            case ReceiptOutcome.NotStored:
                await NotStoredAsync(context, device.Name, receipt.Reason).ConfigureAwait(false);
                break;
            default:
                await RefuseAsync(context, device.Name, "broken", 422, receipt.Reason).ConfigureAwait(false);
                break;
        }
    }

    private async Task PairAsync(HttpContext context)
    {
        if (await gate.BodyAsync(context, Audit.Stranger, UplinkFormat.LargestBeat).ConfigureAwait(false) is not { } body)
        {
            return;
        }

        if (Parse<PairingRequest>(body) is not { } request)
        {
            await RefuseAsync(context, Audit.Stranger, "form", 400, "The body is no introduction of this version.").ConfigureAwait(false);
        }
        else if (Devices.Fault(request) is { } fault)
        {
            await RefuseAsync(context, Audit.Stranger, "pairing", 400, fault).ConfigureAwait(false);
        }
        else if (services.Devices.Same(request) is { } same)
        {
            await Answers.WriteAsync(context, new PairingAnswer(same.Name)).ConfigureAwait(false);
        }
        else if (!services.Codes.Use(request.Code))
        {
            await RefuseAsync(context, Audit.Stranger, "pairing", 403, "The code is not right, was used, or is older than ten minutes. Ask for a new one.").ConfigureAwait(false);
        }
        else if (services.Devices.Pair(request) is not { } device)
        {
            await RefuseAsync(context, Audit.Stranger, "pairing", 409, "This tablet is paired with another key. Let an administrator revoke it first.").ConfigureAwait(false);
        }
        else
        {
            await services.Audit.ActAsync("device.paired", new { device = device.Name, tablet = device.Tablet }).ConfigureAwait(false);
            await Answers.WriteAsync(context, new PairingAnswer(device.Name)).ConfigureAwait(false);
        }
    }

    private Task NotStoredAsync(HttpContext context, string device, string reason)
    {
        context.Response.Headers.RetryAfter = LaterSeconds;
        return RefuseAsync(context, device, "notstored", 503, reason);
    }

    private Task RefuseAsync(HttpContext context, string device, string kind, int status, string reason) =>
        Answers.RefuseAsync(context, services.Audit, device, kind, status, reason);

    private static T? Parse<T>(ReadOnlyMemory<byte> body)
        where T : class
    {
        try
        {
            return JsonSerializer.Deserialize<T>(body.Span, UplinkFormat.Json);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
