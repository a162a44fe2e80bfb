namespace Companion.Domain.Sheets;

/// <summary>
/// Whether following one way can end in clear to work: openings, locks, waits, tests and covers in an order that can be kept (I1, I6, I15,
/// I23).
/// </summary>
internal static class WayRules
{
    public static IEnumerable<SheetFault> Faults(Sheet sheet, WrittenWay way) =>
    [
        .. Openings(way),
        .. Locks(sheet, way),
        .. Fed(sheet, way),
        .. Waits(sheet, way),
        .. Tests(sheet, way),
        .. Ending(sheet, way),
    ];

    private static IEnumerable<SheetFault> Openings(WrittenWay way)
    {
        var opened = new HashSet<PointId>();
        for (var index = 0; index < way.Steps.Length; index++)
        {
            if (way.Steps[index] is { Kind: StepKind.Open, Point: { } point } && !opened.Add(point))
            {
                yield return new(
                    $"{way.StepPath(index)}.point",
                    $"Point '{point}' is opened twice in the way '{way.Id}'. Keep one open step for it.");
            }
        }
    }

    private static IEnumerable<SheetFault> Locks(Sheet sheet, WrittenWay way)
    {
        var locked = new HashSet<PointId>();
        for (var index = 0; index < way.Steps.Length; index++)
        {
            if (way.Steps[index] is not { Kind: StepKind.Lock, Point: { } point })
            {
                continue;
            }

            var opening = way.First(step => step.Kind == StepKind.Open && step.Point == point);
            var message = opening < 0 ? $"Point '{point}' is locked but never opened in the way '{way.Id}'. "
                + "Add its open step before the lock."
                : opening > index ? $"Point '{point}' is locked before it is opened. Put its open step first."
                : !locked.Add(point) ? $"Point '{point}' is locked twice. Keep one lock step for it."
                : !sheet.Points.First(one => one.Id == point).Lockable
                    ? $"Point '{point}' is not marked as lockable. Write lockable: true, or take the lock step out."
                : null;
            if (message is not null)
            {
                yield return new($"{way.StepPath(index)}.point", message);
            }
        }

        for (var index = 0; index < way.Steps.Length; index++)
        {
            if (way.Steps[index] is { Kind: StepKind.Open, Point: { } point }
                && sheet.Points.First(one => one.Id == point).Lockable
                && !way.Steps.Any(step => step.Kind == StepKind.Lock && step.Point == point))
            {
                yield return new(way.StepPath(index), $"Point '{point}' is lockable but has no lock step after it in the way '{way.Id}'. "
                    + "Add a lock step, or write lockable: false.");
            }
        }
    }

    private static IEnumerable<SheetFault> Fed(Sheet sheet, WrittenWay way) =>
        from circuit in sheet.Circuits
        where way.LastOpening(sheet, circuit.Id) < 0
        select new SheetFault(way.Path, $"Nothing that feeds circuit '{circuit.Id}' is opened in the way '{way.Id}'. "
            + "Add an open step for a point that feeds it.");

    private static IEnumerable<SheetFault> Waits(Sheet sheet, WrittenWay way)
    {
        foreach (var wait in sheet.Waits)
        {
            var index = way.First(step => step.Kind == StepKind.Wait && step.Wait == wait.Id);
            var lastOpening = way.LastOpening(sheet, wait.Circuit);
            if (index < 0)
            {
                yield return new(way.Path, $"The wait '{wait.Id}' is not waited for in the way '{way.Id}'. Add a wait step for it.");
            }
            else if (lastOpening > index)
            {
                var point = way.Steps[lastOpening].Point;
                yield return new(
                    $"{way.StepPath(index)}.wait",
                    $"The wait '{wait.Id}' could never be over here: it starts only when '{point}' is open too, "
                    + $"and that comes later. Put the wait after it, or correct the circuits that '{point}' feeds.");
            }
        }
    }

    private static IEnumerable<SheetFault> Tests(Sheet sheet, WrittenWay way)
    {
        var tested = new HashSet<CircuitId>();
        for (var index = 0; index < way.Steps.Length; index++)
        {
            if (way.Steps[index] is not { Kind: StepKind.Test, TestPlace: { } id } step)
            {
                continue;
            }

            var place = sheet.TestPlaces.First(one => one.Id == id);
            tested.UnionWith(sheet.Circuits.Select(circuit => circuit.Id).Where(place.Covers));
            foreach (var fault in Test(sheet, way, place, index))
            {
                yield return fault;
            }

            if (!step.Exposes)
            {
                yield return new(
                    way.StepPath(index),
                    $"The dead test '{step.Id}' means working at parts that may be live. Write exposes: true.");
            }
        }

        if (tested.Count == 0)
        {
            yield return new(way.Path, $"The way '{way.Id}' has no test step. Add the dead test.");
        }

        foreach (var circuit in sheet.Circuits)
        {
            if (!tested.Contains(circuit.Id) && sheet.TestPlaces.Any(place => place.Covers(circuit.Id)))
            {
                yield return new(
                    way.Path,
                    $"Circuit '{circuit.Id}' is not tested in the way '{way.Id}'. Add a test step at a place that covers it.");
            }
        }
    }

    private static IEnumerable<SheetFault> Test(Sheet sheet, WrittenWay way, TestPlace place, int index)
    {
        foreach (var wait in sheet.Waits.Where(wait => place.Covers(wait.Circuit)))
        {
            var waited = way.First(step => step.Kind == StepKind.Wait && step.Wait == wait.Id);
            if (waited > index)
            {
                yield return new(
                    way.StepPath(index),
                    $"Dead is tested at '{place.Id}' before the wait '{wait.Id}' is over. Put the wait step before the test.");
            }
        }

        foreach (var point in sheet.Points.Where(point => point.Lockable && IsProvedAt(sheet, place, point)))
        {
            var locked = way.First(step => step.Kind == StepKind.Lock && step.Point == point.Id);
            if (locked > index)
            {
                yield return new(
                    way.StepPath(index),
                    $"Dead is tested at '{place.Id}' before '{point.Id}' is locked. Put the lock step before the test.");
            }
        }

        foreach (var point in place.Points.IsDefault ? [] : place.Points)
        {
            var opened = way.First(step => step.Kind == StepKind.Open && step.Point == point);
            if (opened < 0 || opened > index)
            {
                yield return new(
                    way.StepPath(index),
                    $"Test place '{place.Id}' proves the opening of '{point}', which is not opened before it in the way '{way.Id}'. "
                    + "Open it first, or give the way a test place of its own.");
            }
        }

        foreach (var fault in OpenedLater(way, place, index))
        {
            yield return fault;
        }
    }

    /// <summary>A place that names no point proves the opening of all: at run time it waits for each of them.</summary>
    private static IEnumerable<SheetFault> OpenedLater(WrittenWay way, TestPlace place, int index) =>
        from step in way.Steps.Skip(index + 1)
        where place.Points.IsDefaultOrEmpty && step.Kind == StepKind.Open
        select new SheetFault(
            way.StepPath(index),
            $"Test place '{place.Id}' names no points, so it proves the opening of all, but '{step.Point}' is opened after it in the way '{way.Id}'. "
            + "Open it first, or name the points of the place.");

    private static bool IsProvedAt(Sheet sheet, TestPlace place, IsolationPoint point) =>
        place.Points.IsDefaultOrEmpty || place.Points.Contains(point.Id)
        || sheet.Circuits.Any(circuit => place.Covers(circuit.Id) && point.Feeds(circuit.Id));

    private static IEnumerable<SheetFault> Ending(Sheet sheet, WrittenWay way)
    {
        var clears = way.Steps.Count(step => step.Kind == StepKind.Clear);
        if (clears != 1 || way.Steps[^1].Kind != StepKind.Clear)
        {
            yield return new(
                way.Path,
                $"The way '{way.Id}' has {clears} clear "
                    + $"steps{(clears == 1 ? ", not at its end" : "")}. Have exactly one, as the last step.");
        }

        for (var index = 0; index < way.Steps.Length; index++)
        {
            if (way.Steps[index] is { Kind: StepKind.Open, Point: { } point }
                && sheet.Points.First(one => one.Id == point).Kind == PointKind.Plug
                && !way.Steps.Skip(index).Any(step => step.Kind == StepKind.Cover))
            {
                yield return new(way.StepPath(index), $"The side of plug '{point}' that stays live is not covered in the way '{way.Id}'. "
                    + "Add a cover step after it and before clear.");
            }
        }
    }
}
