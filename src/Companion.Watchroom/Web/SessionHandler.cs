using System.Security.Claims;
using System.Text.Encodings.Web;
using Companion.Watchroom.Access;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;

namespace Companion.Watchroom.Web;

/// <summary>Finds out at every request whose session it is, on the server's side: a session that has ended opens nothing.</summary>
internal sealed class SessionHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, WatchroomServices services)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    /// <summary>The scheme's name.</summary>
    public const string Name = "session";

    /// <summary>The cookie: by its prefix browsers take it only over HTTPS, from this host, for the whole site.</summary>
    public const string Cookie = "__Host-companion";

    /// <summary>How the cookie is set.</summary>
    public static readonly CookieOptions CookieOptions = new() { Secure = true, HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/" };

    /// <inheritdoc/>
    protected override Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        if (Request.Cookies[Cookie] is not { } cookie)
        {
            return Task.FromResult(AuthenticateResult.NoResult());
        }

        if (services.Sessions.Find(cookie) is not { } person)
        {
            services.Audit.Refused(Audit.Stranger, "session", StatusCodes.Status401Unauthorized, "The session has ended or never was.");
            return Task.FromResult(AuthenticateResult.Fail("The session has ended."));
        }

        var identity = new ClaimsIdentity([new Claim(ClaimTypes.Name, person.Name), new Claim(ClaimTypes.Role, person.Role.ToString())], Name);
        return Task.FromResult(AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), Name)));
    }

    /// <inheritdoc/>
    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        if (HttpMethods.IsGet(Request.Method) && Request.Headers.Accept.ToString().Contains("text/html", StringComparison.Ordinal))
        {
            Response.Redirect("/login");
            return Task.CompletedTask;
        }

        Response.StatusCode = StatusCodes.Status401Unauthorized;
        return Response.WriteAsync("Sign in first.");
    }

    /// <inheritdoc/>
    protected override Task HandleForbiddenAsync(AuthenticationProperties properties) => Answers.RefuseAsync(
        Context, services.Audit, "people", "role", StatusCodes.Status403Forbidden, "Your role may not do this. Ask a team lead or an administrator.");
}
