using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Simulation.Worlds;
using Companion.TestKit;

namespace Companion.Simulation.Watched;

/// <summary>
/// Tablets, watch room and link in one true time. Time passes from one stop to the next: whatever is due then happens, and just before a deadline of
/// the watch room is a stop too, so that nothing can be raised unseen a moment early.
/// </summary>
internal sealed class Surroundings : IDisposable
{
    private static readonly Ticks MostBetween = Ticks.OfSeconds(4);
    private static readonly Ticks BetweenBeats = Ticks.OfSeconds(20);
    private static readonly Ticks JustBefore = Ticks.OfMilliseconds(1);
    private static readonly Ticks BetweenStarts = Ticks.OfSeconds(5);
    private const int StormyTrouble = 70;

    private readonly int _trouble;
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-watched-").FullName;
    private readonly List<LinkedTablet> _tablets = [];
    private readonly Dictionary<LinkedTablet, (bool Reboots, TimeSpan Wall)> _returns = [];
    private readonly Dictionary<int, Ticks> _cutUntil = [];
    private Ticks? _roomBack;
    private bool _roomAsleep;
    private Ticks? _roomMended;
    private Ticks _stormUntil;
    private bool _isHealed;

    public Surroundings(WatchedPlan plan, Tally tally)
    {
        _trouble = plan.Faults;
        Room = new WatchRoom(Made("room"), () => Now, plan.Seed);
        Referee = new Referee(Room, () => Now, _tablets);
        Link = new Link(() => Now, tally.Struck) { Sent = Referee.Sent, Deliver = letter => IsRoomThere ? Referee.Arrived(letter) : null };
        for (var number = 1; number <= plan.Tablets; number++)
        {
            _tablets.Add(new LinkedTablet(number, plan.Seed, Made($"tablet-{number}"), Link, () => Now));
            Room.Pair(_tablets[^1].Introduction());
        }
    }

    /// <summary>The true time.</summary>
    public Ticks Now { get; private set; } = Ticks.OfSeconds(1000);

    /// <summary>The tablets.</summary>
    public IReadOnlyList<LinkedTablet> Tablets => _tablets;

    /// <summary>The watch room.</summary>
    public WatchRoom Room { get; }

    /// <summary>Who has every judge look.</summary>
    public Referee Referee { get; }

    /// <summary>The network.</summary>
    public Link Link { get; }

    /// <summary>True while the watch room takes anything up.</summary>
    public bool IsRoomThere => Room.Keeper is not null && !_roomAsleep;

    /// <summary>When time alone next raises something in the watch room; null when it does not.</summary>
    public Ticks? NextAlert => Room.Keeper is not null && Referee.Alerts.Next is { } next ? Now + new Ticks((next - Room.Time.GetUtcNow()).Ticks * 100) : null;

    /// <summary>True when nobody is away and nothing is under way.</summary>
    public bool IsWhole => _roomBack is null && _roomMended is null && _tablets.TrueForAll(tablet => tablet.IsRunning) && Link.Next is null;

    /// <summary>Everything starts.</summary>
    public void Start()
    {
        Room.Start();
        Referee.Started();
        _tablets.ForEach(tablet => tablet.Start());
    }

    /// <summary>Tablets reach nothing for a while.</summary>
    public void CutOff(IEnumerable<LinkedTablet> tablets, Ticks span)
    {
        foreach (var tablet in tablets)
        {
            Link.CutOff.Add(tablet.Number);
            _cutUntil[tablet.Number] = Now + span;
        }
    }

    /// <summary>The link is bad for a while.</summary>
    public void Storm(Ticks span) => _stormUntil = Now + span;

    /// <summary>From now on the link is good.</summary>
    public void HealLink()
    {
        _isHealed = true;
        Link.CutOff.Clear();
    }

    /// <summary>The watch room's process dies, or its power goes.</summary>
    public void RoomGoes(Ticks span, Random? cut)
    {
        if (!IsRoomThere)
        {
            return;
        }

        if (cut is null)
        {
            Room.Kill();
        }
        else
        {
            Room.CutPower(cut);
        }

        _roomBack = Now + span;
    }

    /// <summary>The watch room's machine takes nothing up for a while, not even its own pulse.</summary>
    public void RoomSleeps(Ticks span)
    {
        if (IsRoomThere)
        {
            (_roomAsleep, _roomBack) = (true, Now + span);
        }
    }

    /// <summary>Something ails the disk of the watch room; somebody mends it after a while, and starts the watch room anew if it says that it records nothing.</summary>
    public void RoomAils(DiskAilment ailment, int afterOperations, Ticks span)
    {
        // What a disk that failed has forgotten and what a clock that was set has moved would hide each other.
        if (!Room.IsAiling && !Room.IsClockSet && Room.Keeper is not null)
        {
            Room.Ail(ailment, afterOperations);
            _roomMended = Now + span;
        }
    }

    /// <summary>Somebody sets the clock of the watch room's machine. Its present run goes by its own.</summary>
    public void SetRoomClock(TimeSpan off)
    {
        if (!Room.HasAiled && Room.Keeper is not null)
        {
            Room.Wall = off;
        }
    }

    /// <summary>A tablet's process dies, or its power goes.</summary>
    public void TabletGoes(LinkedTablet tablet, Ticks span, Random? cut, TimeSpan wall)
    {
        if (tablet.IsRunning)
        {
            tablet.GoOff(Now + span, cut);
            _returns[tablet] = (cut is not null, wall);
        }
    }

    /// <summary>A tablet's process dies, and before it runs again somebody puts its store back to an old copy.</summary>
    public void TabletPutBack(LinkedTablet tablet, Ticks span)
    {
        if (tablet.IsRunning)
        {
            TabletGoes(tablet, span, null, TimeSpan.Zero);
            tablet.PutBack();
        }
    }

    /// <summary>A tablet sleeps.</summary>
    public void TabletSleeps(LinkedTablet tablet, Ticks span)
    {
        if (tablet.IsRunning)
        {
            tablet.Sleep(Now + span);
            _returns[tablet] = default;
        }
    }

    /// <summary>Time passes.</summary>
    public void Pass(Ticks span)
    {
        for (var end = Now + span; Now < end;)
        {
            var next = NextStop();
            Advance((next < end ? next : end) - Now);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _tablets.ForEach(tablet => tablet.Dispose());
        Room.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private Ticks NextStop()
    {
        var stops = _tablets.Where(tablet => tablet.IsRunning).Select(tablet => tablet.NextBeat)
            .Concat(_tablets.Select(tablet => tablet.AwayUntil).Append(_roomBack).Append(_roomMended).Append(Link.Next).Append(NextAlert).Append(NextAlert - JustBefore).OfType<Ticks>());
        return stops.Where(stop => stop > Now).Append(Now + MostBetween).Min();
    }

    private void Advance(Ticks span)
    {
        Now += span;
        _tablets.ForEach(tablet => tablet.Pass(span));
        ComeBack();
        Link.Trouble = _isHealed ? 0 : Now < _stormUntil ? StormyTrouble : _trouble;
        Link.Arrive();
        foreach (var tablet in _tablets.Where(tablet => tablet.IsRunning))
        {
            tablet.Turn();
            if (Now >= tablet.NextBeat)
            {
                tablet.NextBeat = Now + BetweenBeats;
                tablet.SendBeat();
                if (Link.Chance.Next(2) == 0)
                {
                    tablet.SendEntries();
                }
            }
        }

        if (IsRoomThere)
        {
            Referee.Pulse();
        }
    }

    /// <summary>What was away and is due comes back.</summary>
    private void ComeBack()
    {
        foreach (var (number, _) in _cutUntil.Where(cut => cut.Value <= Now).ToList())
        {
            _cutUntil.Remove(number);
            Link.CutOff.Remove(number);
        }

        foreach (var tablet in _tablets.Where(tablet => tablet.AwayUntil <= Now))
        {
            tablet.ComeBack(_returns[tablet].Reboots, _returns[tablet].Wall);
        }

        if (_roomBack <= Now)
        {
            _roomBack = null;
            if (_roomAsleep)
            {
                _roomAsleep = false;
            }
            else
            {
                StartRoom();
            }
        }

        if (_roomMended <= Now && !_roomAsleep)
        {
            MendRoom();
        }
    }

    private void StartRoom()
    {
        try
        {
            Room.Start();
        }
        catch (StoreFaultException) when (Room.IsAiling)
        {
            Referee.CouldNotStart();
            _roomBack = Now + BetweenStarts;
            return;
        }

        Referee.Started();
    }

    private void MendRoom()
    {
        _roomMended = null;
        Room.Mend();
        if (Room.Keeper?.Fault is not null)
        {
            RoomGoes(BetweenStarts, null);
        }
    }

    private string Made(string name) => Directory.CreateDirectory(Path.Combine(_folder, name)).FullName;
}
