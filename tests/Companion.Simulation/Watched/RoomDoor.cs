using Companion.Contracts.Uplink;
using Companion.Watchroom.Web;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;

namespace Companion.Simulation.Watched;

/// <summary>Brings letters to the watch room's real routes and rules of admission, without a server between.</summary>
internal sealed class RoomDoor(UplinkServices services)
{
    private readonly UplinkRoutes _routes = new(services, new UplinkGate(services));

    /// <summary>Asks; comes back when the watch room has answered.</summary>
    public Reply Ask(Letter letter)
    {
        var context = new DefaultHttpContext();
        using var answer = new MemoryStream();
        context.Features.Set<IHttpMaxRequestBodySizeFeature>(new NoLimit());
        context.Request.Method = HttpMethods.Post;
        context.Request.Path = letter.Path;
        context.Request.ContentType = letter.ContentType;
        context.Request.ContentLength = letter.Body.Length;
        context.Request.Body = new MemoryStream(letter.Body);
        context.Response.Body = answer;
        foreach (var (name, value) in letter.Headers)
        {
            context.Request.Headers[name] = value;
        }

        (letter.Path == UplinkFormat.BeatPath ? _routes.BeatAsync(context) : _routes.BatchAsync(context)).GetAwaiter().GetResult();
        return new Reply(context.Response.StatusCode, context.Response.ContentType ?? string.Empty, answer.ToArray());
    }

    private sealed class NoLimit : IHttpMaxRequestBodySizeFeature
    {
        public bool IsReadOnly => false;

        public long? MaxRequestBodySize { get; set; }
    }
}
