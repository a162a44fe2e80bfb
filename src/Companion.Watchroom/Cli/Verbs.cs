using System.Globalization;
using System.Net;
using Companion.Engine.Ports;
using Companion.Watchroom.Access;
using Companion.Watchroom.Checking;
using Companion.Watchroom.Proving;

namespace Companion.Watchroom.Cli;

/// <summary>The command line of the watch room. All but the service itself work beside a running one, through files that both read.</summary>
internal static class Verbs
{
    private const string Usage = """
        watchroom [--store DIR] [--port N] [--listen ADDRESS] [--certificate FILE]   the service, until stopped
        watchroom add-person NAME technician|teamlead|administrator [--store DIR]    password from standard input; an empty one makes one
        watchroom remove-person NAME [--store DIR]                                   ends their sessions too
        watchroom pair-code [--store DIR]                                            a code for one tablet, for ten minutes
        watchroom devices [--store DIR]                                              the tablets that are paired
        watchroom revoke DEVICE [--store DIR]                                        refuses a tablet from now on
        watchroom proof-key [--store DIR]                                            the public key that proofs are checked with
        watchroom read-photo                                                         reads the code of one photograph, for the service itself
        """;

    /// <summary>Runs a verb; the exit code is 0 when it was done.</summary>
    public static async Task<int> RunAsync(string[] arguments, TextWriter output, TextWriter errors, TextReader input)
    {
        try
        {
            var line = new CommandLine(arguments);
            if (line.Words.Count == 0)
            {
                return await ServeAsync(line, output).ConfigureAwait(false);
            }

            if (line.Words is [PhotoDesk.Verb])
            {
                return await PhotoDesk.AnswerAsync(Console.OpenStandardInput(), output).ConfigureAwait(false);
            }

            line.Only("store");
            var store = PrivateFolder.Make(StoreOf(line));
            return line.Words switch
            {
                ["add-person", var name, var role] => AddPerson(store, name, role, output, input),
                ["remove-person", var name] => RemovePerson(store, name, output),
                ["pair-code"] => PairCode(store, output),
                ["devices"] => ListDevices(store, output),
                ["revoke", var device] => Revoke(store, device, output),
                ["proof-key"] => ProofKey(store, output),
                _ => throw new UsageException(Usage),
            };
        }
        catch (Exception fault) when (fault is UsageException or StoreFaultException or IOException or UnauthorizedAccessException)
        {
            await errors.WriteLineAsync(fault.Message).ConfigureAwait(false);
            return 2;
        }
    }

    private static async Task<int> ServeAsync(CommandLine line, TextWriter output)
    {
        line.Only("store", "port", "listen", "certificate");
        var options = new WatchroomOptions(StoreOf(line)) { Port = PortOf(line), Listen = AddressOf(line), Certificate = line["certificate"] };
        await using var app = await WatchroomApp.StartAsync(options).ConfigureAwait(false);
        foreach (var finding in app.Findings)
        {
            await output.WriteLineAsync($"Look: {finding}").ConfigureAwait(false);
        }

        // Nobody waits for it: the watch goes on meanwhile.
        _ = app.Recording.IsCompleted ? Task.CompletedTask : TellWhenRecordingAsync(app, TextWriter.Synchronized(output));
        await output.WriteLineAsync($"Store: {options.Store}").ConfigureAwait(false);
        await output.WriteLineAsync($"Certificate SHA-256: {app.Fingerprint}").ConfigureAwait(false);
        await output.WriteLineAsync($"Watch board: {app.Address}").ConfigureAwait(false);
        await output.FlushAsync().ConfigureAwait(false);
        await app.WaitForShutdownAsync().ConfigureAwait(false);
        return 0;
    }

    private static async Task TellWhenRecordingAsync(WatchroomApp app, TextWriter output)
    {
        await Task.WhenAny(app.Recording).ConfigureAwait(false);
        foreach (var finding in app.Findings)
        {
            await output.WriteLineAsync($"Look: {finding}").ConfigureAwait(false);
        }

        await output.WriteLineAsync(app.Recording.IsCompletedSuccessfully ? "The record is read and checked, and goes on." : "The record cannot be opened.").ConfigureAwait(false);
        await output.FlushAsync().ConfigureAwait(false);
    }

    private static int AddPerson(string store, string name, string roleName, TextWriter output, TextReader input)
    {
        if (!Enum.TryParse<Role>(roleName, ignoreCase: true, out var role) || !Enum.IsDefined(role) || char.IsAsciiDigit(roleName[0]))
        {
            throw new UsageException("The role is technician, teamlead or administrator.");
        }

        var typed = input.ReadLine();
        var password = string.IsNullOrEmpty(typed) ? People.NewPassword() : typed;
        if (new People(store, TimeProvider.System).Set(name, role, password) is { } fault)
        {
            throw new UsageException(fault);
        }

        Spool(store, "person.set", name);
        output.WriteLine(string.IsNullOrEmpty(typed) ? $"{name} signs in with the password {password}" : $"{name} signs in with the password given.");
        return 0;
    }

    private static int RemovePerson(string store, string name, TextWriter output)
    {
        if (!new People(store, TimeProvider.System).Remove(name))
        {
            throw new UsageException($"There is nobody named {name}.");
        }

        Spool(store, "person.removed", name);
        output.WriteLine($"{name} may not sign in any more.");
        return 0;
    }

    private static int PairCode(string store, TextWriter output)
    {
        output.WriteLine(new PairCodes(store, TimeProvider.System).New());
        Spool(store, "paircode.made", string.Empty);
        return 0;
    }

    private static int ListDevices(string store, TextWriter output)
    {
        foreach (var device in new Devices(store, TimeProvider.System).All())
        {
            var state = device.Revoked is { } revoked ? $"revoked {revoked:yyyy-MM-dd HH:mm}" : "paired";
            output.WriteLine($"{device.Name}  {device.Called}  {device.Tablet}  {state}");
        }

        return 0;
    }

    private static int Revoke(string store, string device, TextWriter output)
    {
        if (!new Devices(store, TimeProvider.System).Revoke(device))
        {
            throw new UsageException($"There is no paired tablet {device}. The verb devices lists them.");
        }

        Spool(store, "device.revoked", device);
        output.WriteLine($"{device} is refused from now on.");
        return 0;
    }

    private static int ProofKey(string store, TextWriter output)
    {
        output.WriteLine(CounterSigner.PublicPem(store) ?? throw new UsageException("There is no key yet: the watch room makes it at its first start."));
        return 0;
    }

    private static void Spool(string store, string type, string subject) => new ActSpool(store).Add(type, subject, TimeProvider.System.GetUtcNow());

    private static string StoreOf(CommandLine line) => Path.GetFullPath(line["store"] ?? Path.Combine(
        Environment.GetEnvironmentVariable("XDG_DATA_HOME") is { Length: > 0 } data
            ? data
            : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".local", "share"),
        "companion-watchroom"));

    private static int PortOf(CommandLine line) => line["port"] is not { } text ? WatchroomOptions.UsualPort
        : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var port) && port < 65536 ? port
        : throw new UsageException("--port is a number up to 65535.");

    private static IPAddress? AddressOf(CommandLine line) => line["listen"] is not { } text ? null
        : IPAddress.TryParse(text, out var address) ? address
        : throw new UsageException("--listen is an address of this machine, such as 127.0.0.1.");
}
