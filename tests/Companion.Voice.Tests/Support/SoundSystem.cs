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
    private readonly string[] modules;
    private Process daemon;

    /// <summary>Starts the daemon.</summary>
    /// <param name="rate">The rate in hertz at which the virtual microphone works.</param>
    public SoundSystem(int rate = 16_000)
    {
        modules = [Loudspeaker, $"module-null-sink sink_name=micsink rate={rate} channels=1", Microphone.Replace("16000", $"{rate}", StringComparison.Ordinal)];
        daemon = Start();
    }

    public string Server => $"unix:{Socket}";

    private string Socket => Path.Combine(folder, "pulse.sock");

    public void UnplugMicrophone() => Control("unload-module", "module-remap-source");

    public void PlugMicrophone() => Load(modules[^1]);

    public void PlugLoudspeaker() => Load(Loudspeaker);

    /// <summary>Loads a module; its number, by which <see cref="Unload"/> takes it away again.</summary>
    public string Load(string module) => Asked(["load-module", .. module.Split(' ')]).Trim();

    public void Unload(string number) => Control("unload-module", number);

    /// <summary>Unplugs the virtual loudspeaker.</summary>
    public void UnplugLoudspeaker() => Unload(
        Asked("list", "short", "modules").Split('\n').Single(line => line.Contains(Loudspeaker["module-null-sink ".Length..], StringComparison.Ordinal)).Split('\t')[0]);

    /// <summary>One command of pactl's.</summary>
    public void Control(params string[] arguments) => Asked(arguments);

    /// <summary>The daemon stands still, as on a machine in trouble, and answers nobody.</summary>
    public void Freeze() => Signal("-STOP");

    public void Thaw() => Signal("-CONT");

    public void StopDaemon()
    {
        daemon.Kill();
        daemon.WaitForExit();
    }

    /// <summary>Starts it again after <see cref="StopDaemon"/>, with its devices.</summary>
    public void StartDaemon()
    {
        daemon.Dispose();
        daemon = Start();
    }

    public void Dispose()
    {
        daemon.Kill();
        daemon.WaitForExit();
        daemon.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    private Process Start()
    {
        var start = new ProcessStartInfo("pulseaudio") { RedirectStandardError = true, RedirectStandardOutput = true };
        start.Environment["XDG_RUNTIME_DIR"] = folder;
        start.Environment["HOME"] = folder;
        string[] arguments =
        [
            "-n", "--daemonize=no", "--exit-idle-time=-1", "--disallow-exit", "--use-pid-file=no", "--log-level=error",
            "-L", $"module-native-protocol-unix auth-anonymous=1 socket={Socket}", .. modules.SelectMany(module => (string[])["-L", module]),
        ];
        Array.ForEach(arguments, start.ArgumentList.Add);
        try
        {
            var started = Process.Start(start)!;
            var patience = Stopwatch.StartNew();
            while (!TryControl(out _, "info"))
            {
                Assert.True(patience.Elapsed < TimeSpan.FromSeconds(15) && !started.HasExited, "pulseaudio did not start.");
                Thread.Sleep(50);
            }

            return started;
        }
        catch (Win32Exception missing)
        {
            throw new InvalidOperationException("pulseaudio is not installed; ./companion test installs it.", missing);
        }
    }

    private void Signal(string signal)
    {
        using var kill = Process.Start("kill", [signal, $"{daemon.Id}"]);
        kill.WaitForExit();
        Assert.Equal(0, kill.ExitCode);
    }

    private string Asked(params string[] arguments)
    {
        Assert.True(TryControl(out var answer, arguments), $"pactl {string.Join(' ', arguments)}: {answer}");
        return answer;
    }

    private bool TryControl(out string answer, params string[] arguments)
    {
        using var control = Process.Start(
            new ProcessStartInfo("pactl", ["-s", Server, .. arguments]) { RedirectStandardError = true, RedirectStandardOutput = true })!;
        answer = control.StandardOutput.ReadToEnd() + control.StandardError.ReadToEnd();
        control.WaitForExit();
        return control.ExitCode == 0;
    }
}
