using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Speaking;

/// <summary>The words of the arrival, the stand-off and the call for help.</summary>
public static class SceneWording
{
    /// <summary>What is asked of the arrival list.</summary>
    public static string Ask(Scene scene, Need need) => need.Kind switch
    {
        NeedKind.SceneAct => $"{Item(scene, need).Say} Say done.",
        NeedKind.SceneQuestion => $"{Item(scene, need).Say} Say yes or no.",
        NeedKind.SceneRemedy => $"{Item(scene, need).Then} Say done, or cannot do.",
        _ => $"Check this. {ReadBack(scene)} If right, say ready. If not, say wrong.",
    };

    /// <summary>The advice after a yes that is only noted.</summary>
    public static string? Advice(Scene? scene, SceneAnswered answered) =>
        answered.Answer == SceneAnswer.Yes && scene?.List.Find(answered.Item.Value) is { Leads: Leads.Note } item ? item.Then : null;

    /// <summary>What is left in a stand-off.</summary>
    public static string StandOff(Job job) =>
        $"Stand-off. Keep {Metres(job.StandOff!)} clear on all sides. Call the fire service{Number(job)}. Say temperature and the degrees, or hand over.";

    /// <summary>
    /// What the next person must know. A pack can ignite a day or more after the damage, in one case weeks (NHTSA interim guidance, as reported).
    /// </summary>
    public static string Quarantine(StandOff off) =>
        $"Recorded: handed over, not isolated. {Parking(off)}";

    /// <summary>Where it may stand from now on.</summary>
    public static string Parking(StandOff off) =>
        $"Park it in the open, {Metres(off)} clear on all sides or behind a barrier. It can burn a day or more later.";

    /// <summary>The place and the number to call; empty when neither is known.</summary>
    public static string Whereabouts(Job job) =>
        $"{(job.Place is { } place ? $"The place is {place.TrimEnd('.')}. " : string.Empty)}{(job.Scene is null ? string.Empty : $"The number is{Number(job).TrimStart(',')}.")}".Trim();

    private static string ReadBack(Scene scene)
    {
        var questions = scene.List.Items.Where(item => item.Leads != Leads.Act).ToLookup(item => scene.Answers.GetValueOrDefault(item.Id));
        return $"No to: {Names(questions[SceneAnswer.No])}. Yes to: {Names(questions[SceneAnswer.Yes].Concat(questions[SceneAnswer.Done]))}.";
    }

    private static string Names(IEnumerable<ArrivalItem> items) => string.Join(", ", items.Select(item => item.Name).DefaultIfEmpty("nothing"));

    // Rounded up: a stand-off is never said too short.
    private static string Metres(StandOff off) => $"{(off.Centimetres + 99) / 100} metres";

    private static string Number(Job job) => job.Scene is { } scene ? $", {Wording.Digits(scene.List.EmergencyNumber)}" : string.Empty;

    private static ArrivalItem Item(Scene scene, Need need) => scene.List.Find(need.Subject)!;
}
