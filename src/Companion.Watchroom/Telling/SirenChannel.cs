using System.ComponentModel;
using System.Diagnostics;

namespace Companion.Watchroom.Telling;

/// <summary>Tells by a command on this machine: started without a shell and without arguments, with the text on its standard input.</summary>
internal sealed class SirenChannel : IChannel
{
    /// <inheritdoc/>
    public async Task TellAsync(Telling telling, RingRound round, CancellationToken cancellation)
    {
        using var process = Start(telling.Target.Address);
        try
        {
            await WriteAsync(process, TellingWords.Body(telling.Alert, telling.Position, telling.At), cancellation).ConfigureAwait(false);
            await process.WaitForExitAsync(cancellation).ConfigureAwait(false);
        }
        finally
        {
            if (!process.HasExited)
            {
                // A siren that never ends would leave one process for every attempt.
                process.Kill(entireProcessTree: true);
            }
        }

        if (process.ExitCode != 0)
        {
            throw new NotToldException($"The command ended with {process.ExitCode}.");
        }
    }

    private static Process Start(string command)
    {
        try
        {
            return Process.Start(new ProcessStartInfo(command) { RedirectStandardInput = true, UseShellExecute = false })!;
        }
        catch (Win32Exception cause)
        {
            throw new NotToldException($"The command did not start: {cause.Message}", cause);
        }
    }

    private static async Task WriteAsync(Process process, string text, CancellationToken cancellation)
    {
        try
        {
            await process.StandardInput.WriteAsync(text.AsMemory(), cancellation).ConfigureAwait(false);
            process.StandardInput.Close();
        }
        catch (IOException)
        {
            // It does not read its input; how it ends tells whether it sounded.
        }
    }
}
