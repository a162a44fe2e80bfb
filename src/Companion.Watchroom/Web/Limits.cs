using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using Companion.Watchroom.Access;

namespace Companion.Watchroom.Web;

/// <summary>How often each address may ask for what. Beats are under no limit: to refuse one would raise a false alarm.</summary>
internal static class Limits
{
    /// <summary>Introductions.</summary>
    public const string Pairing = "pairing";

    /// <summary>Signing in.</summary>
    public const string SignIn = "signin";

    /// <summary>Batches: many tablets may come from one address of their network.</summary>
    public const string Batch = "batch";

    /// <summary>Pages and their files.</summary>
    public const string Page = "page";

    /// <summary>Papers that anybody checks: each costs a look into a record, and digits could be guessed.</summary>
    public const string Check = "check";

    /// <summary>Whether deadlines are looked at: asked by another machine, and never in the way of pages.</summary>
    public const string Health = "health";

    /// <summary>Such questions from one address in a minute.</summary>
    public const int HealthAMinute = 60;

    /// <summary>Papers from one address in a minute.</summary>
    public const int ChecksAMinute = 20;

    /// <summary>Introductions and sign-ins from one address in a minute.</summary>
    public const int StrictlyAMinute = 10;

    /// <summary>Batches from one address in a minute.</summary>
    public const int BatchesAMinute = 1200;

    /// <summary>Pages and files from one address in a minute.</summary>
    public const int PagesAMinute = 1200;

    private const int NetworkBytes = 8;
    private static readonly TimeSpan Minute = TimeSpan.FromMinutes(1);

    /// <summary>Adds them.</summary>
    public static void Add(IServiceCollection services, Audit audit) => services.AddRateLimiter(limiter =>
    {
        limiter.AddPolicy(Pairing, context => Of(context, StrictlyAMinute));
        limiter.AddPolicy(SignIn, context => Of(context, StrictlyAMinute));
        limiter.AddPolicy(Check, context => Of(context, ChecksAMinute));
        limiter.AddPolicy(Batch, context => Of(context, BatchesAMinute));
        limiter.AddPolicy(Health, context => Of(context, HealthAMinute));
        limiter.AddPolicy(Page, context => Of(context, PagesAMinute));
        limiter.OnRejected = async (rejected, _) =>
        {
            rejected.HttpContext.Response.Headers.RetryAfter = Minute.TotalSeconds.ToString(CultureInfo.InvariantCulture);
            await Answers.RefuseAsync(
                rejected.HttpContext, audit, Audit.Stranger, "toooften", StatusCodes.Status429TooManyRequests, "Too many requests. Wait a minute, then try again.").ConfigureAwait(false);
        };
    });

    private static RateLimitPartition<string> Of(HttpContext context, int aMinute) => RateLimitPartition.GetSlidingWindowLimiter(
        NetworkOf(context.Connection.RemoteIpAddress),
        _ => new SlidingWindowRateLimiterOptions { PermitLimit = aMinute, Window = Minute, SegmentsPerWindow = 6 });

    /// <summary>What counts as one address: whoever has one of IPv6 mostly has the 2^64 of its network to guess from.</summary>
    internal static string NetworkOf(IPAddress? address)
    {
        if (address is not { AddressFamily: AddressFamily.InterNetworkV6, IsIPv4MappedToIPv6: false })
        {
            return (address?.IsIPv4MappedToIPv6 == true ? address.MapToIPv4() : address)?.ToString() ?? string.Empty;
        }

        var bytes = address.GetAddressBytes();
        bytes.AsSpan(NetworkBytes).Clear();
        return new IPAddress(bytes).ToString();
    }
}
