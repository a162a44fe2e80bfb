using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Speaking;
using Companion.Domain.Time;
using Companion.Sheets.Rehearsals;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Rehearsing;

/// <summary>
/// A technician made of a synthesiser: listens until the Companion has ended, answers the open question by voice, checks the echo,
/// repeats the code, and holds the button when the ear has failed too often.
/// </summary>
public sealed class Technician(Stage stage, ISynthesiser voice, ImmutableDictionary<string, string> readings)
{
    /// <summary>Attempts by voice at one question before the button is held.</summary>
    public const int Attempts = 5;

    private static readonly Ticks Think = Ticks.OfMilliseconds(450);
    private static readonly Ticks Patience = Ticks.OfSeconds(120);

    private ImmutableDictionary<string, string> _readings = readings;
    private (long Question, int Tried) _attempt;

    /// <summary>Answers given by voice.</summary>
    public int Spoken { get; private set; }

    /// <summary>Answers for which the button was held because the ear had failed.</summary>
    public int Held { get; private set; }

    /// <summary>Echoes that were wrong.</summary>
    public int Corrected { get; private set; }

    /// <summary>The tester shows other figures from here on.</summary>
    public void Show(ImmutableDictionary<string, string> changed) => _readings = _readings.SetItems(changed);

    /// <summary>Answers rightly until a question of this kind, at this step if one is named, is open at its first stage.</summary>
    public async Task<bool> FollowAsync(NeedKind kind, string? step)
    {
        for (var turn = 0; turn < 4000; turn++)
        {
            if (stage.Job is not { } job || job.Ended || job.Question is not { } question)
            {
                return kind == NeedKind.Nothing;
            }

            if (question.Need.Kind == kind && question.Echo is null && (step is null || question.Need.Subject.Split(':').Contains(step)))
            {
                return true;
            }

            await AnswerAsync(job, question).ConfigureAwait(false);
        }

        return false;
    }

    /// <summary>Says words once the Companion is silent.</summary>
    public async Task SayAsync(string words)
    {
        await stage.PassUntilAsync(() => stage.IsQuiet, Patience).ConfigureAwait(false);
        await stage.PassAsync(Think).ConfigureAwait(false);
        var text = words.Replace("{code}", SpokenNumber.Say(stage.Job?.Question?.Code ?? "0"), StringComparison.Ordinal);
        var before = stage.Utterances;
        Spoken++;
        stage.Speak(voice.Speak(text));
        await stage.PassUntilAsync(() => stage.Utterances > before && stage.IsQuietOfPerson, Ticks.OfSeconds(12)).ConfigureAwait(false);
    }

    /// <summary>Holds the button.</summary>
    public async Task HoldAsync(Phrase phrase, string? number = null)
    {
        await stage.PassUntilAsync(() => stage.IsQuiet, Patience).ConfigureAwait(false);
        var began = stage.Now;
        var question = stage.Job?.Question?.Sequence ?? 0;
        await stage.PassAsync(Ticks.OfMilliseconds(1400)).ConfigureAwait(false);
        stage.Engine.Post(new Answer
        {
            Question = question, Began = began, By = By.Button, Phrase = phrase, Number = number, Held = stage.Now.Boot - began.Boot,
        });
        await stage.PassAsync(Ticks.OfMilliseconds(100)).ConfigureAwait(false);
    }

    private async Task AnswerAsync(Job job, Question question)
    {
        if (question.Need.Kind == NeedKind.WaitOver)
        {
            await stage.PassAsync(Ticks.OfSeconds(1)).ConfigureAwait(false);
            return;
        }

        var right = RightAnswers.For(job, question, _readings);
        _attempt = _attempt.Question == question.Sequence ? (question.Sequence, _attempt.Tried + 1) : (question.Sequence, 1);
        if (_attempt.Tried > Attempts && (right.Phrase != Phrase.Reading || question.Echo is null))
        {
            Held++;
            await HoldAsync(question.Echo is null && question.Code is null ? right.Phrase : Phrase.Affirm, right.Number).ConfigureAwait(false);
            return;
        }

        await SayAsync(Words(question, right)).ConfigureAwait(false);
    }

    private string Words(Question question, RightAnswer right)
    {
        if (question.Echo is { } echo && !right.Matches(echo))
        {
            Corrected++;
            return "wrong";
        }

        return question.Code is not null ? "affirm {code}" : right.Words;
    }
}
