using Companion.Engine.Ports;
using Companion.Tablet.Cli;

Func<Options, Task<int>>? verb = args.FirstOrDefault() switch
{
    "start" => StartVerb.RunAsync,
    "rehearse" => RehearseVerb.RunAsync,
    "export" => options => Task.FromResult(ExportVerb.Run(options)),
    "verify" => options => Task.FromResult(VerifyVerb.Run(options)),
    "papers" => options => Task.FromResult(PapersVerb.Run(options)),
    "record" => RecordVerb.RunAsync,
    "sheet" => SheetVerb.RunAsync,
    "workshop" => options => Task.FromResult(WorkshopVerb.Run(options)),
    "pair" => PairVerb.RunAsync,
    "retain" => RetainVerb.RunAsync,
    "person" => options => Task.FromResult(PersonVerb.Run(options)),
    "watchdog" => WatchdogVerb.RunAsync,
    _ => null,
};

if (verb is null)
{
    Console.Error.WriteLine("Verbs: start, rehearse FILE, export [--store DIR], verify [--store DIR | FILE], papers [--store DIR] --job ID, record FILE, "
        + "sheet check|show FILE, sheet import FILE [--store DIR], workshop resistance, pair --watchroom ADDRESS --code CODE, "
        + "retain [--store DIR] [--dry], person [--store DIR] --name NAME.");
    return 2;
}

try
{
    return await verb(new Options(args[1..], "--dry", "--names"));
}
catch (Exception fault) when (fault is UsageException or StoreFaultException or IOException or UnauthorizedAccessException)
{
    Console.Error.WriteLine(fault.Message);
    return 2;
}
