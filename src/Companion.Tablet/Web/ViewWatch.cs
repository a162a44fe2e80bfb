using Microsoft.AspNetCore.Components.Server.Circuits;

namespace Companion.Tablet.Web;

/// <summary>Tells of views whose link came up or went down.</summary>
internal sealed class ViewWatch(Views views) : CircuitHandler
{
    public override Task OnConnectionUpAsync(Circuit circuit, CancellationToken cancellationToken)
    {
        views.Connected(circuit.Id);
        return Task.CompletedTask;
    }

    public override Task OnConnectionDownAsync(Circuit circuit, CancellationToken cancellationToken)
    {
        views.Gone(circuit.Id);
        return Task.CompletedTask;
    }
}
