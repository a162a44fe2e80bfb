using System.Globalization;
using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;

namespace Companion.Screens.Answering;

/// <summary>A number that the open question wants, and so a keypad.</summary>
/// <param name="Kind">What the number is.</param>
/// <param name="Title">What is typed, in words: "positive to negative, DC volts".</param>
/// <param name="MostDigits">How many digits it may have.</param>
/// <param name="Lowest">The tester's lowest indication, for "below"; null when below cannot be said.</param>
public sealed record NumberNeed(NumberKind Kind, string Title, int MostDigits, string? Lowest)
{
    private const int VoltDigits = 7;
    private const int HeatDigits = 5;
    private const int LockDigits = 4;
    private const int SheetDigits = 2;
    private const int ToolDigits = 2;
    private const int CrewDigits = 4;

    /// <summary>A crew number, on the panel for people.</summary>
    public static readonly NumberNeed Crew = new(NumberKind.Crew, "Crew number", CrewDigits, null);

    /// <summary>True for what an instrument shows: it may have a sign and a point.</summary>
    public bool IsMeasured => Kind is NumberKind.Reading or NumberKind.Temperature;

    /// <summary>The number that a question wants; null when it wants none, or already has it.</summary>
    public static NumberNeed? Of(Job job)
    {
        if (job.Question is not { Echo: null, Code: null } question)
        {
            return null;
        }

        switch (question.Need.Kind)
        {
            case NeedKind.ChooseSheet:
                return new NumberNeed(NumberKind.Sheet, "Sheet number", SheetDigits, null);
            case NeedKind.StandOff:
                return new NumberNeed(NumberKind.Temperature, "Temperature, degrees Celsius", HeatDigits, null);
            case NeedKind.FitLock or NeedKind.RemoveLock:
                return new NumberNeed(NumberKind.Lock, "Lock number", LockDigits, null);
            case NeedKind.CountTools:
                return new NumberNeed(NumberKind.Tools, "Number of tools", ToolDigits, null);
            case NeedKind.ProveTester:
                return new NumberNeed(NumberKind.Reading, $"Tester shows, {Unit(ProvedKind(question.Need))}", VoltDigits, null);
            case NeedKind.TakeReading:
                var pair = TestItems.PairOf(job, question.Need);
                return new NumberNeed(NumberKind.Reading, $"{pair.Name}, {Unit(pair.Kind)}", VoltDigits, LowestOf(job, pair.Kind));
            default:
                return null;
        }
    }

    private static string Unit(VoltageKind kind) => string.Create(CultureInfo.InvariantCulture, $"{kind.ToString().ToUpperInvariant()} volts");

    private static VoltageKind ProvedKind(Need need) => Enum.Parse<VoltageKind>(need.Subject.Split(TestItems.Separator)[2]);

    private static string? LowestOf(Job job, VoltageKind kind) => job.Kit
        .FirstOrDefault(item => item.Kind == KitKind.Tester && (job.Test is null ? job.Checked.Contains(item.Id) : item.Id == job.Test.Tester))
        ?.Lowest(kind)?.ToString();
}

/// <summary>What a typed number is.</summary>
public enum NumberKind
{
    /// <summary>What a tester shows, in volts.</summary>
    Reading,

    /// <summary>A temperature of the heat watch.</summary>
    Temperature,

    /// <summary>The number of a lock.</summary>
    Lock,

    /// <summary>The number of a sheet.</summary>
    Sheet,

    /// <summary>How many tools.</summary>
    Tools,

    /// <summary>The crew number of a person.</summary>
    Crew,
}
