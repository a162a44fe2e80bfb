using System.ComponentModel;
using System.Diagnostics;
using Companion.Voice.Audio;

namespace Companion.Voice.Speaking;

/// <summary>
/// Speech by espeak-ng as a child process (GPL-3, therefore never linked). Slower to start than flite, and the second choice.
/// </summary>
public sealed class EspeakSynthesiser : ISynthesiser
{
    /// <summary>A prompt must be made within this time.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    private const int MaximumBytes = 8 * 1024 * 1024;

    private readonly string voice;
    private readonly int wordsPerMinute;

    /// <summary>A voice of espeak-ng.</summary>
    /// <param name="voice">Its name: "en-gb" and so on.</param>
    /// <param name="wordsPerMinute">Rate of speech; 150 is unhurried.</param>
    public EspeakSynthesiser(string voice = "en-gb", int wordsPerMinute = 150)
    {
        this.voice = voice;
        this.wordsPerMinute = wordsPerMinute;
    }

    /// <inheritdoc/>
    public short[] Speak(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var start = new ProcessStartInfo("espeak-ng") { RedirectStandardInput = true, RedirectStandardOutput = true };
        foreach (var argument in (string[])["-v", voice, "-s", wordsPerMinute.ToString(), "--stdin", "--stdout"])
        {
            start.ArgumentList.Add(argument);
        }

        try
        {
            using var process = Process.Start(start) ?? throw new SynthesiserException("espeak-ng did not start.");
            using var patience = new CancellationTokenSource(Patience);
            using var stop = patience.Token.Register(process.Kill);
            process.StandardInput.Write(text);
            process.StandardInput.Close();
            var sound = ReadAll(process.StandardOutput.BaseStream);
            process.WaitForExit();
            return process.ExitCode == 0
                ? WavFile.Parse(sound)
                : throw new SynthesiserException($"espeak-ng ended with {process.ExitCode}.");
        }
        catch (Exception fault) when (fault is Win32Exception or IOException or InvalidDataException)
        {
            throw new SynthesiserException($"espeak-ng made no speech: {fault.Message}", fault);
        }
    }

    private static byte[] ReadAll(Stream stream)
    {
        using var all = new MemoryStream();
        var piece = new byte[16 * 1024];
        for (int count; (count = stream.Read(piece)) > 0;)
        {
            if (all.Length + count > MaximumBytes)
            {
                throw new InvalidDataException("the speech does not end.");
            }

            all.Write(piece, 0, count);
        }

        return all.ToArray();
    }
}
