using Companion.Domain.Events;
using Companion.Pages.Record;
using Companion.Review;
using Companion.Review.Listening;
using Companion.Review.Replaying;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Companion.Pages.Replay;

/// <summary>
/// What the replay's script asks for: pictures of the screen, and prompts spoken again. The head gives the group its prefix, which names the
/// record by <c>chain</c> and, where there are several tablets, <c>device</c>, and says who may look.
/// </summary>
public static class ReplayRoutes
{
    /// <summary>What is said where no speech can be made.</summary>
    public const string NoSpeech = "This machine makes no speech. The words are shown instead.";

    /// <summary>Maps them.</summary>
    /// <param name="group">The group.</param>
    /// <param name="shelf">The records.</param>
    /// <param name="speak">Makes a WAV file of words; null when it cannot. Called from many threads.</param>
    /// <param name="sound">Recorded sound; null where none may be heard, as on a tablet: it holds the quiet word in clear.</param>
    /// <param name="heard">Told before sound is given out, so that who listened can be written down first.</param>
    public static void MapReplay(
        this RouteGroupBuilder group, RecordShelf shelf, Func<string, byte[]?> speak, SoundShelf? sound = null, Func<HttpContext, RecordName, Task>? heard = null)
    {
        group.MapGet("/at", (HttpContext context, long ms) => Picture(
            shelf, context, replay => ReplayScreen.At(replay, TimeSpan.FromMilliseconds(Math.Clamp(ms, 0, ReplayWords.Milliseconds(replay.Length))))));
        group.MapGet("/at/{sequence:long}", (HttpContext context, long sequence) => Picture(
            shelf, context, replay => ReplayScreen.After(replay, replay.CountTo(sequence))));
        group.MapGet("/said/{sequence:long}.wav", (HttpContext context, long sequence) => Said(shelf, context, sequence, speak));
        if (sound is not null)
        {
            group.MapGet("/sound/{sequence:long}.wav", async (HttpContext context, long sequence) =>
            {
                await (heard?.Invoke(context, NameOf(context)) ?? Task.CompletedTask).ConfigureAwait(false);
                return Sound(shelf, context, sequence, sound);
            });
        }
    }

    private static IResult Sound(RecordShelf shelf, HttpContext context, long sequence, SoundShelf sound)
    {
        var found = shelf.Find(NameOf(context)) is { } open ? sound.Find(open.Job, sequence) : new HeldSound(null, IsMisfit: false, "There is no such record.");
        return found.Wav is { } wav
            ? Results.Bytes(wav, "audio/wav")
            : Results.Text(found.Words, statusCode: found.IsMisfit ? StatusCodes.Status409Conflict : StatusCodes.Status404NotFound);
    }

    private static IResult Picture(RecordShelf shelf, HttpContext context, Func<JobReplay, ReplayScreen> screen) =>
        shelf.Find(NameOf(context))?.Replay is { } replay
            ? new RazorComponentResult<ReplayPicture>(new Dictionary<string, object?> { [nameof(ReplayPicture.Place)] = new ReplayPlace(replay, screen(replay)) })
            {
                PreventStreamingRendering = true,
            }
            : Results.Text("There is no such record.", statusCode: StatusCodes.Status404NotFound);

    /// <summary>Only what the record says was spoken can be spoken again: no address brings words of its own.</summary>
    private static IResult Said(RecordShelf shelf, HttpContext context, long sequence, Func<string, byte[]?> speak)
    {
        var replay = shelf.Find(NameOf(context))?.Replay;
        var count = replay?.CountTo(sequence) ?? 0;
        if (count == 0 || replay!.Record.Entries[count - 1] is not { Happened: PromptSpoken spoken } entry || entry.Sequence != sequence)
        {
            return Results.Text("No prompt was spoken there.", statusCode: StatusCodes.Status404NotFound);
        }

        return speak(spoken.Text) is { } wav
            ? Results.Bytes(wav, "audio/wav")
            : Results.Text(NoSpeech, statusCode: StatusCodes.Status503ServiceUnavailable);
    }

    private static RecordName NameOf(HttpContext context) => new(
        context.Request.RouteValues["device"] as string ?? string.Empty, context.Request.RouteValues["chain"] as string ?? string.Empty);
}
