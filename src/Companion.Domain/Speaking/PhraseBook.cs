using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Electrical;

namespace Companion.Domain.Speaking;

/// <summary>One way to say a phrase.</summary>
/// <param name="Id">Unique name of this way.</param>
/// <param name="Phrase">What it means.</param>
/// <param name="Pattern">Words with `[optional]`, `(this|that)`, `{digits:MIN-MAX}` and `{number}`.</param>
/// <param name="Kind">The kind it names, for a reading.</param>
/// <param name="Below">True for "below N".</param>
public sealed record SpokenForm(string Id, Phrase Phrase, string Pattern, VoltageKind? Kind = null, bool Below = false);

/// <summary>Every phrase that can be said, and which of them may be said now.</summary>
public static class PhraseBook
{
    /// <summary>All forms.</summary>
    public static readonly ImmutableArray<SpokenForm> All =
    [
        new("affirm", Phrase.Affirm, "affirm"),
        new("affirmcode", Phrase.AffirmCode, "affirm [code] {digits:2-2}"),
        new("yes", Phrase.Yes, "yes"),
        new("no", Phrase.No, "no"),
        new("wrong", Phrase.Wrong, "wrong"),
        new("sayagain", Phrase.SayAgain, "say again"),
        new("sheet", Phrase.Sheet, "[sheet] {digits:2-2}"),
        new("checked", Phrase.Checked, "checked"),
        new("done", Phrase.Done, "done"),
        new("opened", Phrase.Opened, "opened"),
        new("fitted", Phrase.Fitted, "fitted [lock] {digits:1-4}"),
        new("fittedbare", Phrase.Fitted, "fitted"),
        new("covered", Phrase.Covered, "covered"),
        new("reading", Phrase.Reading, "[minus] {number} [volts]"),
        new("readingdc", Phrase.Reading, "[minus] {number} volts d c", VoltageKind.Dc),
        new("readingac", Phrase.Reading, "[minus] {number} volts a c", VoltageKind.Ac),
        new("below", Phrase.Reading, "below {number} [volts]", Below: true),
        new("otherunit", Phrase.OtherUnit, "{number} (millivolts|kilovolts|amps|ohms)"),
        new("nothingshown", Phrase.NothingShown, "nothing shown"),
        new("baremetal", Phrase.BareMetal, "bare metal"),
        new("proveddead", Phrase.ProvedDead, "proved dead"),
        new("cleartowork", Phrase.ClearToWork, "clear to work"),
        new("nothingtouched", Phrase.NothingTouched, "nothing touched"),
        new("cannotdo", Phrase.CannotDo, "cannot do"),
        new("notthere", Phrase.NotThere, "not there"),
        new("cannotreach", Phrase.CannotReach, "cannot reach"),
        new("damaged", Phrase.Damaged, "it is damaged"),
        new("stuck", Phrase.Stuck, "it is stuck"),
        new("notool", Phrase.NoTool, "no tool"),
        new("otherway", Phrase.OtherWay, "take the other way"),
        new("ready", Phrase.Ready, "ready"),
        new("handover", Phrase.HandOver, "hand over"),
        new("handoverexchanged", Phrase.HandOverExchanged, "hand over other lock"),
        new("tools", Phrase.Tools, "checked {digits:1-2}"),
        new("workdone", Phrase.WorkDone, "done work"),
        new("workdoneturned", Phrase.WorkDone, "work done"),
        new("uncovered", Phrase.Uncovered, "uncovered"),
        new("removed", Phrase.Removed, "removed [lock] {digits:1-4}"),
        new("removedbare", Phrase.Removed, "removed"),
        new("byprocedure", Phrase.ByProcedure, "by procedure {digits:1-4}"),
        new("closed", Phrase.Closed, "closed"),
        new("personarrived", Phrase.PersonArrived, "other {digits:1-4} ready"),
        new("personleft", Phrase.PersonLeft, "other {digits:1-4} left"),
        new("personjoins", Phrase.PersonJoins, "other {digits:1-4} work"),
        new("persontakesover", Phrase.PersonTakesOver, "other {digits:1-4} take over"),
        new("takingbreak", Phrase.TakingBreak, "off work"),
        new("howlong", Phrase.HowLong, "how long"),
        new("watching", Phrase.Watching, "watching {number} [volts]"),
        new("temperature", Phrase.Temperature, "temperature [minus] {number} [degrees]"),
        new("allright", Phrase.AllRight, "i am all right"),
        new("statusallright", Phrase.StatusAllRight, "status all right"),
        new("leavenow", Phrase.LeaveNow, "leave now"),
        new("casualty", Phrase.Casualty, "casualty"),
        new("stop", Phrase.Stop, "stop"),
        new("helpme", Phrase.HelpMe, "help me"),
        new("keyon", Phrase.KeyOn, "key on"),
        new("enginestarted", Phrase.EngineStarted, "engine started"),
        new("lowvoltrestored", Phrase.LowVoltRestored, "twelve volt restored"),
        new("vehiclewoke", Phrase.VehicleWoke, "vehicle woke"),
        new("plugrefitted", Phrase.PlugRefitted, "plug refitted"),
        new("chargerconnected", Phrase.ChargerConnected, "charger connected"),
        new("wheelsturned", Phrase.WheelsTurned, "wheels turned"),
        new("vehicletowed", Phrase.VehicleTowed, "vehicle towed"),
    ];

    /// <summary>The ways to check in: heard at any moment of a job that is watched over.</summary>
    public static readonly ImmutableArray<SpokenForm> CheckIns =
        [.. All.Where(form => form.Phrase is Phrase.AllRight or Phrase.StatusAllRight)];

    private static readonly ImmutableHashSet<Phrase> Always =
    [
        Phrase.SayAgain, Phrase.CannotDo, Phrase.HowLong, Phrase.Stop, Phrase.HelpMe, Phrase.LeaveNow, Phrase.Casualty, Phrase.PersonLeft, Phrase.TakingBreak, Phrase.ProvedDead, Phrase.ClearToWork,
        Phrase.KeyOn, Phrase.EngineStarted, Phrase.LowVoltRestored, Phrase.VehicleWoke, Phrase.PlugRefitted,
        Phrase.ChargerConnected, Phrase.WheelsTurned, Phrase.VehicleTowed,
    ];

    private static readonly ImmutableHashSet<Phrase> Claims =
    [
        Phrase.Checked, Phrase.Done, Phrase.Opened, Phrase.Fitted, Phrase.Covered, Phrase.Ready, Phrase.HandOver, Phrase.HandOverExchanged,
        Phrase.Removed, Phrase.PersonArrived, Phrase.PersonJoins, Phrase.PersonTakesOver,
    ];

    /// <summary>
    /// The forms that may be heard for a question: its answers, the claims of other steps (so that they are refused with a reason),
    /// and what may be said at any moment. While an echo waits to be confirmed the claims are left out.
    /// </summary>
    public static IEnumerable<SpokenForm> For(Question? question)
    {
        if (question is null)
        {
            return All.Where(form => Always.Contains(form.Phrase));
        }

        var expected = Expectations.Of(question.Need.Kind).Phrases;
        if (question.Echo is null && question.Code is null)
        {
            var wrong = question.Need.Kind is NeedKind.NothingTouched or NeedKind.ConfirmContact or NeedKind.InabilityReason or NeedKind.TakeWay
                or NeedKind.SceneReadBack;
            var watching = question.Need.Kind is NeedKind.WaitOver or NeedKind.Working;
            return All.Where(form => expected.Contains(form.Phrase) || Always.Contains(form.Phrase) || Claims.Contains(form.Phrase)
                || (wrong && form.Phrase == Phrase.Wrong) || (watching && form.Phrase == Phrase.Watching)
                || (question.Need.Kind == NeedKind.StandOff && form.Phrase == Phrase.Temperature));
        }

        return question.Code is null
            ? All.Where(form => Always.Contains(form.Phrase) || expected.Contains(form.Phrase) || form.Phrase == Phrase.Wrong)
            : All.Where(form => Always.Contains(form.Phrase) || form.Phrase is Phrase.Wrong or Phrase.AffirmCode or Phrase.Affirm);
    }

    /// <summary>The phrases to show and to say in answer to a question, the usual one first.</summary>
    public static ImmutableArray<Phrase> Offered(Question question) => question switch
    {
        { Code: not null } => question.Echo is null ? [Phrase.AffirmCode] : [Phrase.AffirmCode, Phrase.Wrong],
        { Echo: not null } => [question.Echo.Phrase, Phrase.Wrong],
        { Need.Kind: NeedKind.NothingTouched } => [Phrase.NothingTouched, Phrase.Wrong],
        { Need.Kind: NeedKind.SceneReadBack } => [Phrase.Ready, Phrase.Wrong],
        { Need.Kind: NeedKind.StandOff } => [Phrase.Temperature, Phrase.HandOver],
        { Need.Kind: NeedKind.ConfirmContact } => [Phrase.BareMetal, Phrase.Wrong],
        { Need.Kind: NeedKind.InabilityReason } => Expectations.Of(NeedKind.InabilityReason).Phrases.Add(Phrase.Wrong),
        { Need.Kind: NeedKind.TakeWay } => [Phrase.OtherWay, Phrase.CannotDo, Phrase.Wrong],
        _ => Expectations.Of(question.Need.Kind).Phrases.Remove(Phrase.OtherUnit),
    };

    /// <summary>The plain words of a phrase, without its numbers.</summary>
    public static string Words(Phrase phrase) => phrase switch
    {
        Phrase.AffirmCode => "affirm, and the code",
        Phrase.NoSignal => "no signal, call arranged",
        Phrase.Fitted => "fitted, lock, number",
        Phrase.Sheet => "the two-digit number",
        Phrase.Reading => "the reading",
        Phrase.Removed => "removed, lock, number",
        Phrase.Tools => "checked, and how many",
        Phrase.ByProcedure => "by procedure, and a crew number",
        Phrase.PersonArrived => "other, crew number, ready",
        Phrase.PersonLeft => "other, crew number, left",
        Phrase.PersonJoins => "other, crew number, work",
        Phrase.PersonTakesOver => "other, crew number, take over",
        Phrase.Watching => "watching, and the reading",
        Phrase.Temperature => "temperature, and the degrees",
        _ => All.First(form => form.Phrase == phrase).Pattern,
    };
}
