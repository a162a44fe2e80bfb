using System.ComponentModel;
using System.Diagnostics;
using Companion.Voice.Audio;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Rehearsing;

/// <summary>A voice of the flite command: technicians for rehearsals whose voices the linked library does not hold.</summary>
public sealed class FliteCommand(string voice) : ISynthesiser
{
    /// <inheritdoc/>
    public short[] Speak(string text)
    {
        var path = Path.Combine(Path.GetTempPath(), $"companion-{Environment.ProcessId}-{Environment.CurrentManagedThreadId}.wav");
        try
        {
            using var process = Process.Start("flite", ["-voice", voice, "-t", text, "-o", path]);
            process.WaitForExit();
            return process.ExitCode == 0 ? WavFile.Read(path) : throw new SynthesiserException($"flite ended with {process.ExitCode}.");
        }
        catch (Exception fault) when (fault is Win32Exception or IOException or InvalidDataException)
        {
            throw new SynthesiserException($"flite made no speech: {fault.Message}", fault);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
