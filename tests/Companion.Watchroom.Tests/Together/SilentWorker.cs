using Companion.Contracts.Uplink;
using Companion.TestKit;
using Companion.Uplink;

namespace Companion.Watchroom.Tests.Together;

/// <summary>
/// A real uplink whose technician checks in, says nothing more until the alert for that is there, then checks in again; and who calls for help over
/// and over. What the watch room has acknowledged is known, and so which alerts there must be. Callable from any thread.
/// </summary>
internal sealed class SilentWorker : IOutboxSource, IAsyncDisposable
{
    private readonly Lock _one = new();
    private readonly int _number;
    private readonly SortedDictionary<long, DateTimeOffset> _calls = [];
    private WatchroomUplink? _uplink;
    private long _checkIn = 1;
    private long _keptCheckIn;
    private long _keptCall;
    private long _sentCall;

    private SilentWorker(int number) => (_number, _calls[1]) = (number, DateTimeOffset.MaxValue);

    /// <summary>From a check-in to its alert, where nothing is held up.</summary>
    public TimeSpan Patience => TimeSpan.FromSeconds(Interval + Margin);

    /// <summary>Its job.</summary>
    public string Job => $"job-{_number}";

    /// <summary>The alerts that must be there, by kind and number: each once.</summary>
    public IReadOnlyList<string> Owed
    {
        get
        {
            lock (_one)
            {
                return [.. Numbers(_keptCheckIn).Select(Overdue), .. Numbers(_keptCall).Select(Call)];
            }
        }
    }

    private static int Margin => 1;

    private int Interval => 2 + (_number % 3);

    /// <summary>Pairs with a watch room and begins to send.</summary>
    public static async Task<SilentWorker> StartAsync(WatchroomProcess room, string folder, int number)
    {
        var worker = new SilentWorker(number);
        var parts = new UplinkParts(Path.Combine(folder, $"tablet-{number}"), worker, worker.Beat, TimeProvider.System, Random.Shared.NextDouble)
        {
            BeatEvery = TimeSpan.FromMilliseconds(200),
        };
        if (await Pairing.PairAsync(parts, room.Address, room.Fingerprint, await room.PairCodeAsync(), Guid.NewGuid(), $"van {number}") is { } fault)
        {
            throw new InvalidOperationException(fault);
        }

        worker._uplink = WatchroomUplink.Start(parts);
        worker._uplink.Answered += worker.Answered;
        return worker;
    }

    /// <summary>When a call was first sent.</summary>
    public DateTimeOffset Called(long call)
    {
        lock (_one)
        {
            return _calls[call];
        }
    }

    /// <summary>Goes on where the alert is there, and calls again.</summary>
    public void GoOn(IReadOnlySet<string> raised)
    {
        lock (_one)
        {
            if (raised.Contains(Overdue(_checkIn)))
            {
                _checkIn++;
            }

            if (_keptCall == _calls.Keys.Last())
            {
                _calls[_keptCall + 1] = DateTimeOffset.MaxValue;
            }
        }
    }

    public IReadOnlyList<string> Chains() => [];

    public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence) => [];

    public ValueTask DisposeAsync() => _uplink?.DisposeAsync() ?? ValueTask.CompletedTask;

    private static IEnumerable<long> Numbers(long most) => Enumerable.Range(1, (int)most).Select(number => (long)number);

    private string Overdue(long checkIn) => $"overdue:{Job}:{checkIn}";

    private string Call(long call) => $"call:{Job}:{call}";

    private Beat Beat()
    {
        lock (_one)
        {
            _sentCall = _calls.Keys.Last();
            if (_calls[_sentCall] == DateTimeOffset.MaxValue)
            {
                _calls[_sentCall] = TimeProvider.System.GetUtcNow();
            }

            return new Beat(
                Job, $"Technician {_number}", "working", null, null, new CheckInStatement(_checkIn, 0, Interval, Margin, "working"), [],
                [new Call($"{Job}/{_sentCall}", CallKind.Help, 0)], true, false);
        }
    }

    /// <summary>One beat is under way at a time: the answer is to the one that was made last.</summary>
    private void Answered(BeatAnswer answer)
    {
        lock (_one)
        {
            (_keptCheckIn, _keptCall) = (Math.Max(_keptCheckIn, answer.CheckIn), Math.Max(_keptCall, _sentCall));
        }
    }
}
