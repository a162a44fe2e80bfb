using Companion.Domain.Deciding;
using Companion.Engine;
using Microsoft.AspNetCore.Components.Server.Circuits;

namespace Companion.Tablet.Web;

/// <summary>Has it recorded when a view that was connected is lost.</summary>
internal sealed class ViewWatch(JobEngine engine) : CircuitHandler
{
    public override Task OnConnectionDownAsync(Circuit circuit, CancellationToken cancellationToken)
    {
        engine.Post(new ViewGone("screen"));
        return Task.CompletedTask;
    }
}
