using Companion.Engine.Ports;

namespace Companion.Voice.Tests.Support;

/// <summary>The phrases of the product, as many as can be open at once.</summary>
public static class ProductPhrases
{
    private const string Text = """
        code|affirm {digits:2-2}
        volts|[minus] {number} [volts] [(d c|a c)]
        below|below {number} [volts]
        millivolts|{number} millivolts
        kilovolts|{number} kilovolts
        amps|{number} amps
        ohms|{number} ohms
        fitted|fitted [lock {digits:1-4}]
        ready|ready
        done|done
        checked|checked
        opened|opened
        removed|removed
        covered|covered
        proved|proved
        dead|proved dead
        clear|clear to work
        nothing|nothing shown
        test|start test
        untouched|nothing touched
        yes|yes
        no|no
        next|next
        stop|stop
        help|help me
        again|say again
        wrong|wrong
        affirm|affirm
        cannot|cannot do
        howlong|how long
        status|status
        alright|i am all right
        leave|leave now
        casualty|casualty
        absent|not there
        reach|cannot reach
        damaged|it is damaged
        stuck|it is stuck
        tool|no tool
        key|key on
        engine|engine started
        twelve|twelve volt restored
        woke|vehicle woke
        plug|plug refitted
        charger|charger connected
        wheels|wheels turned
        towed|vehicle towed
        otherway|take the other way
        handover|hand over
        live|treat as live
        correction|correction
        tag|tag {digits:1-4}
        """;

    public static IReadOnlyList<PhrasePattern> All { get; } =
    [
        .. Text.Split('\n').Select(line => line.Split('|', 2)).Select(parts => new PhrasePattern(parts[0], parts[1], parts[0] is "stop" or "help")),
    ];

    public static IReadOnlyList<PhrasePattern> Only(params string[] ids) => [.. All.Where(phrase => ids.Contains(phrase.Id))];
}
