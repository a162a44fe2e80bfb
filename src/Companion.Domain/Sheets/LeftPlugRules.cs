using System.Collections.Immutable;

namespace Companion.Domain.Sheets;

/// <summary>
/// A plug that stands open when another way is taken: its side that stays live is covered in that way too (I15). A way that opens the plug
/// itself is held to that by <see cref="WayRules"/>.
/// </summary>
internal static class LeftPlugRules
{
    public static IEnumerable<SheetFault> Faults(Sheet sheet)
    {
        var openBefore = new Dictionary<StepId, ImmutableHashSet<PointId>>();
        Follow(sheet, sheet.Steps, [], openBefore);
        for (var index = 0; index < sheet.Alternatives.Length; index++)
        {
            var way = sheet.Alternatives[index];
            ImmutableHashSet<PointId> open = way.For.IsDefault ? [] : [.. way.For.SelectMany(step => openBefore.GetValueOrDefault(step, []))];
            foreach (var plug in open.Where(plug => !Covers(sheet, way, plug)).OrderBy(plug => plug.Value, StringComparer.Ordinal))
            {
                yield return new(
                    $"alternatives[{index}].steps",
                    $"Plug '{plug}' can be open already when the way '{way.Id}' is taken, and its side that stays live is not covered there. Add a cover step.");
            }

            Follow(sheet, way.Steps, open, openBefore);
        }
    }

    /// <summary>True when the way covers or opens the point, or when it is no plug: nothing of it stays live.</summary>
    public static bool Covers(Sheet sheet, AlternativeWay way, PointId point) => !IsPlug(sheet, point)
        || way.Steps.Any(step => step.Kind == StepKind.Cover || (step.Kind == StepKind.Open && step.Point == point));

    private static bool IsPlug(Sheet sheet, PointId point) => sheet.Points.Any(one => one.Id == point && one.Kind == PointKind.Plug);

    /// <summary>Notes for every step the plugs that can be open when its turn comes.</summary>
    private static void Follow(
        Sheet sheet, ImmutableArray<Step> steps, ImmutableHashSet<PointId> open, Dictionary<StepId, ImmutableHashSet<PointId>> openBefore)
    {
        foreach (var step in steps)
        {
            openBefore[step.Id] = open;
            if (step is { Kind: StepKind.Open, Point: { } point } && IsPlug(sheet, point))
            {
                open = open.Add(point);
            }
        }
    }
}
