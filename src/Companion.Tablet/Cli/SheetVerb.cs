using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Sheets;
using Companion.Tablet.Clocks;
using Companion.Tablet.Importing;

namespace Companion.Tablet.Cli;

/// <summary>sheet check FILE, sheet show FILE, and sheet import FILE [--store DIR].</summary>
public static class SheetVerb
{
    /// <summary>Prints faults with line and mend, or the sheet, or what became of the import; 0 when it is sound and was done.</summary>
    public static Task<int> RunAsync(Options options) => RunAsync(options, Console.Out, new TabletClock());

    /// <summary>The same with another output and clock.</summary>
    public static async Task<int> RunAsync(Options options, TextWriter output, IClock clock)
    {
        if (options.Words is not [("check" or "show" or "import") and var action, var path])
        {
            throw new UsageException("sheet check FILE, sheet show FILE, or sheet import FILE [--store DIR].");
        }

        options.Only(action == "import" ? ["store"] : []);
        var reading = SheetReader.ReadFile(path, DateOnly.FromDateTime(clock.Now().Wall.Date));
        Print(output, path, "", reading.Problems);
        Print(output, path, "caution, ", reading.Cautions);
        if (reading.Sheet is not { } sheet)
        {
            return 1;
        }

        if (action == "import")
        {
            return await ImportAsync(new SheetFile(path, sheet), options["store"] ?? Places.Store, output, clock).ConfigureAwait(false);
        }

        output.Write(action == "show" ? SheetText.Show(sheet) : $"{path}: sound. {sheet.Vehicle}, edition {sheet.Edition}.{Environment.NewLine}");
        return 0;
    }

    private static void Print(TextWriter output, string path, string kind, IReadOnlyList<SheetProblem> problems)
    {
        foreach (var problem in problems)
        {
            output.WriteLine($"{path}: {kind}{problem}");
        }
    }

    private static async Task<int> ImportAsync(SheetFile file, string store, TextWriter output, IClock clock)
    {
        try
        {
            await using var journal = await JournalStore.OpenAsync(store, new StoreOptions(clock) { Kind = StoreKind.Real }).ConfigureAwait(false);
            var outcome = await new SheetImport(journal, clock, Places.ImportedSheets(store)).RunAsync(file).ConfigureAwait(false);
            output.WriteLine($"{file.Path}: {outcome.Words}");
            return outcome.Refused ? 1 : 0;
        }
        catch (StoreFaultException fault)
        {
            output.WriteLine($"{fault.Message} Nothing was imported. If the app is running, stop it, import, and start it again.");
            return 1;
        }
    }
}
