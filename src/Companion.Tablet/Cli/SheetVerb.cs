using Companion.Sheets;

namespace Companion.Tablet.Cli;

/// <summary>sheet check FILE and sheet show FILE.</summary>
public static class SheetVerb
{
    /// <summary>Prints faults with line and mend, or the sheet; 0 when it is sound.</summary>
    public static int Run(Options options)
    {
        options.Only();
        if (options.Words is not [("check" or "show") and var action, var path])
        {
            throw new UsageException("sheet check FILE, or sheet show FILE.");
        }

        var reading = SheetReader.ReadFile(path);
        foreach (var problem in reading.Problems)
        {
            Console.WriteLine($"{path}: {problem}");
        }

        if (reading.Sheet is not { } sheet)
        {
            return 1;
        }

        Console.Write(action == "show" ? SheetText.Show(sheet) : $"{path}: sound. {sheet.Vehicle}, edition {sheet.Edition}.{Environment.NewLine}");
        return 0;
    }
}
