using System.Runtime.InteropServices;
using Companion.Voice.Audio;

namespace Companion.Voice.Speaking;

/// <summary>
/// Speech by flite (libflite1, BSD-style licence, so it may be linked), voice "slt" by default: made in the process in some 10 to 50 ms.
/// The library keeps global state, so one call at a time; callers on any thread wait for each other.
/// </summary>
public sealed partial class FliteSynthesiser : ISynthesiser
{
    /// <summary>Longest text, in characters.</summary>
    public const int MaximumText = 1_000;

    private static readonly Lock Library = new();

    private readonly nint voice;

    private FliteSynthesiser(nint voice) => this.voice = voice;

    /// <summary>Loads the voice; null with the reason when the library is not installed.</summary>
    public static FliteSynthesiser? TryLoad(out string? reason)
    {
        lock (Library)
        {
            try
            {
                _ = Initialise();
                reason = null;
                return new FliteSynthesiser(RegisterSlt(0));
            }
            catch (Exception fault) when (fault is DllNotFoundException or EntryPointNotFoundException)
            {
                reason = $"flite is not installed ({fault.Message}).";
                return null;
            }
        }
    }

    /// <inheritdoc/>
    public short[] Speak(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length > MaximumText)
        {
            throw new SynthesiserException($"A prompt of {text.Length} characters is too long to be spoken.");
        }

        lock (Library)
        {
            var wave = TextToWave(text, voice);
            if (wave == 0)
            {
                throw new SynthesiserException($"flite made no speech of \"{text}\".");
            }

            try
            {
                var sound = Marshal.PtrToStructure<Wave>(wave);
                var samples = new short[sound.SampleCount];
                Marshal.Copy(sound.Samples, samples, 0, samples.Length);
                return Resampler.Convert(samples, sound.SampleRate);
            }
            finally
            {
                DeleteWave(wave);
            }
        }
    }

    [LibraryImport("libflite.so.1", EntryPoint = "flite_init")]
    private static partial int Initialise();

    [LibraryImport("libflite_cmu_us_slt.so.1", EntryPoint = "register_cmu_us_slt")]
    private static partial nint RegisterSlt(nint folder);

    [LibraryImport("libflite.so.1", EntryPoint = "flite_text_to_wave", StringMarshalling = StringMarshalling.Utf8)]
    private static partial nint TextToWave(string text, nint voice);

    [LibraryImport("libflite.so.1", EntryPoint = "delete_wave")]
    private static partial void DeleteWave(nint wave);

    // cst_wave of flite's cst_wave.h.
    [StructLayout(LayoutKind.Sequential)]
    private readonly record struct Wave(nint Type, int SampleRate, int SampleCount, int ChannelCount, nint Samples);
}
