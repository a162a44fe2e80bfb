using System.ComponentModel;
using System.Diagnostics;

namespace Companion.Voice.Tests.Support;

/// <summary>
/// A private, headless PulseAudio with a virtual loudspeaker "spk" and a virtual microphone "mic", which hears what is played into
/// "micsink". Fails when PulseAudio is not installed.
/// </summary>
public sealed class SoundSystem : IDisposable
{
    private const string Microphone = "module-remap-source master=micsink.monitor source_name=mic channels=1 rate=16000";
    private const string Loudspeaker = "module-null-sink sink_name=spk rate=16000 channels=1";

    private readonly string folder = Directory.CreateTempSubdirectory("companion-sound-").FullName;
    private readonly Process daemon;

    public SoundSystem()
    {
        var socket = Path.Combine(folder, "pulse.sock");
        var start = new ProcessStartInfo("pulseaudio") { RedirectStandardError = true, RedirectStandardOutput = true };
        start.Environment["XDG_RUNTIME_DIR"] = folder;
        start.Environment["HOME"] = folder;
        string[] arguments =
        [
            "-n", "--daemonize=no", "--exit-idle-time=-1", "--disallow-exit", "--use-pid-file=no", "--log-level=error",
            "-L", $"module-native-protocol-unix auth-anonymous=1 socket={socket}",
            "-L", Loudspeaker, "-L", "module-null-sink sink_name=micsink rate=16000 channels=1", "-L", Microphone,
        ];
        Array.ForEach(arguments, start.ArgumentList.Add);
        try
        {
            daemon = Process.Start(start)!;
        }
        catch (Win32Exception missing)
        {
            throw new InvalidOperationException("pulseaudio is not installed; ./companion test installs it.", missing);
        }

        Server = $"unix:{socket}";
        var patience = Stopwatch.StartNew();
        while (!TryControl("info"))
        {
            Assert.True(patience.Elapsed < TimeSpan.FromSeconds(15) && !daemon.HasExited, "pulseaudio did not start.");
            Thread.Sleep(50);
        }
    }

    public string Server { get; }

    public void UnplugMicrophone() => Control("unload-module", "module-remap-source");

    public void PlugMicrophone() => Control(["load-module", .. Microphone.Split(' ')]);

    public void Dispose()
    {
        daemon.Kill();
        daemon.WaitForExit();
        daemon.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    public void StopDaemon() => daemon.Kill();

    private void Control(params string[] arguments) => Assert.True(TryControl(arguments), string.Join(' ', arguments));

    private bool TryControl(params string[] arguments)
    {
        using var control = Process.Start(
            new ProcessStartInfo("pactl", ["-s", Server, .. arguments]) { RedirectStandardError = true, RedirectStandardOutput = true })!;
        control.WaitForExit();
        return control.ExitCode == 0;
    }
}
