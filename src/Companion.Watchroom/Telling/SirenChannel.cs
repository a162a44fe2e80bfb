using System.ComponentModel;
using System.Diagnostics;

namespace Companion.Watchroom.Telling;

/// <summary>Tells by a command on this machine: started without a shell and without arguments, with the text on its standard input.</summary>
internal sealed class SirenChannel : IChannel
{
    /// <summary>So long a killed command may take to be gone: one that the disk holds ends only when the disk lets it.</summary>
    private static readonly TimeSpan LongestEnd = TimeSpan.FromSeconds(2);

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
                await EndAsync(process).ConfigureAwait(false);
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

    /// <summary>Until it is gone, so that the next attempt does not sound beside it.</summary>
    private static async Task EndAsync(Process process)
    {
        try
        {
            await process.WaitForExitAsync(CancellationToken.None).WaitAsync(LongestEnd, CancellationToken.None).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            // It is told that the attempt failed; the system ends the command when it can.
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
