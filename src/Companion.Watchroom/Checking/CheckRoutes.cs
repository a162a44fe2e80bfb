using System.Globalization;
using Companion.Papers.Reading;
using Companion.Watchroom.Web;
using Companion.Watchroom.Web.Pages;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Companion.Watchroom.Checking;

/// <summary>The page on which anybody checks a paper, without signing in. Nothing is changed by it and no cookie is asked for, so its forms need no token.</summary>
internal static class CheckRoutes
{
    /// <summary>The page's address.</summary>
    public const string Address = "/check";

    /// <summary>Photographs that are received at once: each is held in memory, and nothing of it on a disk.</summary>
    public const int MostUploads = 8;

    /// <summary>What a form has beside the photograph.</summary>
    private const int Frame = 16 * 1024;

    private static readonly TimeSpan LongestUpload = TimeSpan.FromSeconds(60);

    private static readonly FormOptions PhotoForm = new()
    {
        MultipartBodyLengthLimit = PaperPhoto.MostBytes,
        MemoryBufferThreshold = PaperPhoto.MostBytes + Frame,
        ValueCountLimit = 4,
        ValueLengthLimit = Frame,
    };

    private static readonly FormOptions TextForm = new() { ValueCountLimit = 8, ValueLengthLimit = 2 * PaperCheck.MostBytes };

    /// <summary>Maps it.</summary>
    public static void Map(IEndpointRouteBuilder routes, WatchroomServices services)
    {
        var check = new PaperCheck(services.Store, services.Devices, services.Receiver, services.Audit, services.Time);
        var uploads = new SemaphoreSlim(MostUploads, MostUploads);
        routes.MapGet(Address, () => Page(CheckModel.Nothing, StatusCodes.Status200OK));
        var sent = routes.MapGroup(Address).RequireRateLimiting(Limits.Check);
        sent.MapPost("/photo", (Delegate)(async (HttpContext context) => await PhotoAsync(context, services, check, uploads).ConfigureAwait(false)));
        sent.MapPost("/text", (Delegate)(async (HttpContext context) =>
            await FormAsync(context, TextForm).ConfigureAwait(false) is { } form ? Answer(check.OfText(form["text"].ToString())) : Malformed(services)));
        sent.MapPost("/digits", (Delegate)(async (HttpContext context) =>
            await FormAsync(context, TextForm).ConfigureAwait(false) is { } form
                && long.TryParse(form["entry"].ToString().Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var entry)
                ? Answer(check.OfDigits(form["job"].ToString().Trim(), entry, form["digits"].ToString()))
                : Malformed(services)));
    }

    private static async Task<IResult> PhotoAsync(HttpContext context, WatchroomServices services, PaperCheck check, SemaphoreSlim uploads)
    {
        if (context.Request.ContentLength > PaperPhoto.MostBytes + Frame)
        {
            return TooLarge(services);
        }

        if (!await uploads.WaitAsync(0).ConfigureAwait(false))
        {
            return Busy(services);
        }

        try
        {
            context.Features.Get<IHttpMaxRequestBodySizeFeature>()!.MaxRequestBodySize = PaperPhoto.MostBytes + Frame;
            if (await FormAsync(context, PhotoForm).ConfigureAwait(false) is not { } form || form.Files.GetFile("photo") is not { Length: > 0 } file)
            {
                return Malformed(services);
            }

            using var photo = new MemoryStream((int)file.Length);
            await file.CopyToAsync(photo, context.RequestAborted).ConfigureAwait(false);
            return await services.Photos.ReadAsync(photo.GetBuffer().AsMemory(0, (int)photo.Length), context.RequestAborted).ConfigureAwait(false) switch
            {
                null => Busy(services),
                { Text: { } text } => Answer(check.OfText(text)),
                var reading => Unread(services, reading.Fault),
            };
        }
        catch (BadHttpRequestException fault) when (fault.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return TooLarge(services);
        }
        finally
        {
            uploads.Release();
        }
    }

    /// <summary>The form; null when it is none, is larger than its limits, or takes too long.</summary>
    private static async Task<IFormCollection?> FormAsync(HttpContext context, FormOptions options)
    {
        using var end = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted);
        end.CancelAfter(LongestUpload);
        try
        {
            return context.Request.HasFormContentType ? await context.Request.ReadFormAsync(options, end.Token).ConfigureAwait(false) : null;
        }
        catch (Exception fault) when (fault is InvalidDataException or OperationCanceledException)
        {
            return null;
        }
    }

    private static IResult Answer(PaperVerdict verdict) =>
        Page(new CheckModel(verdict, string.Empty), verdict.Kind == VerdictKind.Refused ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK);

    private static IResult TooLarge(WatchroomServices services) => Problem(
        services, StatusCodes.Status413PayloadTooLarge, "The photograph is larger than 8 MB. Take it again with a smaller size, or type the digits.");

    private static IResult Busy(WatchroomServices services) => Problem(
        services, StatusCodes.Status503ServiceUnavailable, "Other photographs are being read. Send yours again in a minute, or type the digits.");

    private static IResult Malformed(WatchroomServices services) => Problem(
        services, StatusCodes.Status400BadRequest, "Nothing came that can be checked. Choose a photograph, paste the words of the code, or type job, entry and digits.");

    private static IResult Unread(WatchroomServices services, PhotoFault fault) => fault switch
    {
        PhotoFault.TooManyPoints => Problem(services, StatusCodes.Status413PayloadTooLarge, "The picture has more points than are opened here. Take it again with a smaller size, or type the digits."),
        PhotoFault.NoPicture => Problem(services, StatusCodes.Status415UnsupportedMediaType, "This is no picture that can be opened here: JPEG, PNG or WebP."),
        _ => Problem(services, StatusCodes.Status422UnprocessableEntity, "No code was found in the picture. Hold the telephone straight over the square, close and in good light, or type the digits."),
    };

    private static IResult Problem(WatchroomServices services, int status, string words)
    {
        services.Audit.Refused(Access.Audit.Stranger, "paper", status, words);
        return Page(new CheckModel(null, words), status);
    }

    private static RazorComponentResult<CheckPage> Page(CheckModel model, int status) =>
        new(new Dictionary<string, object?> { [nameof(CheckPage.Model)] = model }) { StatusCode = status, PreventStreamingRendering = true };
}
