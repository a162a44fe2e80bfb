using System.Collections.Immutable;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.Screens.Showing;

/// <summary>One line of the step list.</summary>
/// <param name="Number">Its place, from 1.</param>
/// <param name="Text">The step in the sheet's words.</param>
/// <param name="State">Done, now or to come.</param>
public sealed record StepLine(int Number, string Text, StepState State)
{
    /// <summary>The state in a word; colour never says it alone.</summary>
    public string StateWord => State switch
    {
        StepState.Done => "done",
        StepState.Now => "now",
        _ => "to come",
    };

    /// <summary>The steps of the way that is followed, or its points in reverse while they are closed; empty before a sheet is chosen.</summary>
    public static ImmutableArray<StepLine> Of(Job job)
    {
        if (job.Way is not { } way)
        {
            return [];
        }

        if (job.PuttingBack)
        {
            return [.. WayBack(job, way)];
        }

        var current = job.CurrentStep;
        return [.. way.Steps.Select((step, index) => new StepLine(
            index + 1,
            step.Say,
            step.Id == current?.Id ? StepState.Now : StepRules.Satisfied(job, step) ? StepState.Done : StepState.ToCome))];
    }

    private static IEnumerable<StepLine> WayBack(Job job, SheetWay way)
    {
        var points = way.Steps.Where(step => step.Kind == StepKind.Open).Reverse().Select(step => step.Point!.Value).ToList();
        var now = points.FindIndex(point => !PuttingBack.IsClosed(job, point));
        return points.Select((point, index) => new StepLine(
            index + 1,
            $"Close: {way.Points.First(one => one.Id == point).Name}",
            index == now ? StepState.Now : PuttingBack.IsClosed(job, point) ? StepState.Done : StepState.ToCome));
    }
}

/// <summary>States of a step.</summary>
public enum StepState
{
    /// <summary>Done, and not undone since.</summary>
    Done,

    /// <summary>Its turn.</summary>
    Now,

    /// <summary>Later.</summary>
    ToCome,
}
