using Companion.Domain;
using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.Events;

namespace Companion.TestKit.Judging;

/// <summary>
/// The arrival by the log alone: no sheet before every item is settled and read back by code, and after a yes that forbids it, or "leave now",
/// nothing of the isolation for ever.
/// </summary>
public sealed class SceneLedger
{
    private readonly Dictionary<ArrivalItemId, SceneAnswer> _answers = [];
    private ArrivalList? _list;
    private bool _readBack;
    private long _question;
    private string? _forbidden;
    private bool _echoed;

    /// <summary>Takes one entry.</summary>
    public void Take(Witnessed entry)
    {
        switch (entry.Event)
        {
            case JobOpened opened:
                _list = opened.Arrival;
                break;
            case QuestionAsked asked:
                _question = asked.Question == NeedKind.SceneReadBack ? entry.Sequence : _question;
                break;
            case AnswerCorrected corrected when corrected.Question == _question && !_readBack && !_echoed:
                _answers.Clear();
                break;
            case SceneAnswered answered:
                Answer(answered);
                break;
            case StepConfirmed { Question: NeedKind.SceneReadBack }:
                Oracle.Claim(_list!.Items.All(IsSettled), "arrival: read back before every item was settled");
                _readBack = true;
                break;
            case StandOffBegun begun:
                Oracle.Claim(begun.Centimetres >= ArrivalList.LeastStandOffCentimetres, "arrival: a stand-off under 50 feet");
                _forbidden ??= "a stand-off";
                break;
            case SheetPinned:
                Oracle.Claim(_list is null || _readBack, "arrival: a sheet before the arrival was read back");
                break;
        }

        _echoed = entry.Event is AnswerEchoed || (_echoed && entry.Event is not (AnswerCorrected or QuestionAsked or CodeAccepted));
        Oracle.Claim(_forbidden is null || !IsIsolation(entry.Event), $"arrival: {entry.Event.GetType().Name} after {_forbidden}");
    }

    private void Answer(SceneAnswered answered)
    {
        var item = _list!.Items.Single(candidate => candidate.Id == answered.Item);
        Oracle.Claim((item.Leads == Leads.Act) == (answered.Answer == SceneAnswer.Done) || item.Leads == Leads.Remedy, $"arrival: {item.Id} answered with {answered.Answer}");
        _answers[item.Id] = answered.Answer;
        if (answered.Answer == SceneAnswer.Yes && item.Leads is (Leads.StandOff or Leads.Stop))
        {
            _forbidden ??= $"yes to {item.Id}";
        }
    }

    private bool IsSettled(ArrivalItem item) =>
        _answers.TryGetValue(item.Id, out var answer) && (item.Leads != Leads.Remedy || answer != SceneAnswer.Yes);

    private static bool IsIsolation(JobEvent happened) => happened is SheetPinned or PointOpened or PointLocked or WaitStarted or TesterProved
        or DeadProved or WorkCleared or WayTaken or ReadingTaken { Purpose: ReadingPurpose.DeadTest };
}
