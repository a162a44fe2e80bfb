using System.Collections.Immutable;

namespace Companion.Domain.Sheets;

/// <summary>Every id stands once, and everything that is named exists.</summary>
internal static class SheetNameRules
{
    public static IEnumerable<SheetFault> Faults(Sheet sheet) =>
    [
        .. Twice("circuits", "circuit", sheet.Circuits, circuit => circuit.Id),
        .. Twice("points", "point", sheet.Points, point => point.Id),
        .. Twice("waits", "wait", sheet.Waits, wait => wait.Id),
        .. Twice("testplaces", "test place", sheet.TestPlaces, place => place.Id),
        .. Twice("alternatives", "alternative way", sheet.Alternatives, way => way.Id),
        .. sheet.TestPlaces.SelectMany((place, index) => Twice($"testplaces[{index}].pairs", "pair", place.Pairs, pair => pair.Id)),
        .. StepsTwice(sheet),
        .. Lists(sheet),
        .. SheetWays.All(sheet).SelectMany(way => way.Steps.SelectMany((step, index) => StepNames(sheet, step, way.StepPath(index)))),
    ];

    private static IEnumerable<SheetFault> Twice<T, TId>(string list, string what, ImmutableArray<T> items, Func<T, TId> idOf)
        where TId : struct, ITextId
    {
        var seen = new HashSet<TId>();
        for (var index = 0; index < items.Length; index++)
        {
            if (!seen.Add(idOf(items[index])))
            {
                yield return new(
                    $"{list}[{index}].id",
                    $"There are two {what}s with the id '{idOf(items[index])}'. Give one of them another id.");
            }
        }
    }

    private static IEnumerable<SheetFault> StepsTwice(Sheet sheet)
    {
        var seen = new HashSet<StepId>();
        foreach (var way in SheetWays.All(sheet))
        {
            for (var index = 0; index < way.Steps.Length; index++)
            {
                if (!seen.Add(way.Steps[index].Id))
                {
                    yield return new(
                        $"{way.StepPath(index)}.id",
                        $"There are two steps with the id '{way.Steps[index].Id}'. "
                            + "Step ids are unique in the whole sheet, alternatives included; give one another id.");
                }
            }
        }
    }

    private static IEnumerable<SheetFault> Lists(Sheet sheet)
    {
        var circuits = sheet.Circuits.Select(circuit => circuit.Id).ToHashSet();
        var points = sheet.Points.Select(point => point.Id).ToHashSet();
        return
        [
            .. sheet.Points.SelectMany((point, index) => Unknown($"points[{index}].circuits", "circuit", point.Circuits, circuits)),
            .. sheet.Waits.SelectMany((wait, index) => Unknown($"waits[{index}].circuit", "circuit", wait.Circuit, circuits)),
            .. sheet.TestPlaces.SelectMany((place, index) => Unknown($"testplaces[{index}].circuits", "circuit", place.Circuits, circuits)),
            .. sheet.TestPlaces.SelectMany((place, index) => Unknown($"testplaces[{index}].points", "point", place.Points, points)),
            .. sheet.Disturbances.SelectMany((rule, index) => Unknown($"disturbances[{index}].circuits", "circuit", rule.Circuits, circuits)),
            .. sheet.Disturbances.SelectMany((rule, index) => Unknown($"disturbances[{index}].points", "point", rule.Points, points)),
        ];
    }

    private static IEnumerable<SheetFault> StepNames(Sheet sheet, Step step, string path) =>
    [
        .. Named(step, $"{path}.point", "point", step.Point, step.Kind is StepKind.Open or StepKind.Lock, sheet.Points.Select(point => point.Id)),
        .. Named(step, $"{path}.wait", "wait", step.Wait, step.Kind == StepKind.Wait, sheet.Waits.Select(wait => wait.Id)),
        .. Named(step, $"{path}.testplace", "test place", step.TestPlace, step.Kind == StepKind.Test, sheet.TestPlaces.Select(place => place.Id)),
    ];

    private static IEnumerable<SheetFault> Named<TId>(Step step, string path, string what, TId? id, bool wanted, IEnumerable<TId> known)
        where TId : struct, ITextId
    {
        var kind = step.Kind.ToString().ToLowerInvariant();
        return (id, wanted) switch
        {
            (null, true) => [new(path, $"Step '{step.Id}' of kind {kind} names no {what}. Add the {what}'s id.")],
            (not null, false) => [new(path, $"Step '{step.Id}' of kind {kind} takes no {what}. Take it out, or correct the kind.")],
            ({ } given, true) => Unknown(path, what, given, known.ToHashSet()),
            _ => [],
        };
    }

    private static IEnumerable<SheetFault> Unknown<TId>(string path, string what, ImmutableArray<TId> ids, HashSet<TId> known)
        where TId : struct, ITextId =>
        ids.IsDefault ? [] : ids.SelectMany((id, index) => Unknown($"{path}[{index}]", what, id, known));

    private static IEnumerable<SheetFault> Unknown<TId>(string path, string what, TId id, HashSet<TId> known)
        where TId : struct, ITextId =>
        known.Contains(id) ? []
            : [new(path, $"There is no {what} '{id}' in this sheet. "
                + $"Use one of {string.Join(", ", known.Select(one => one.Value))}, or add it.")];
}
