namespace Acquire.Bench.Sessions;

/// <summary>
/// Which of many messages of a kind are shown: the first few of a run, then at ever longer intervals, with the count of those left out. A
/// person's pace never makes a run, so what somebody does is always answered. Only times of lines count, so that a session that is rebuilt
/// or watched from elsewhere shows the same.
/// </summary>
internal sealed class MessageFlood
{
    private const int First = 8;
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan LongestInterval = TimeSpan.FromSeconds(64);

    private int _count;
    private int _unsaid;
    private TimeSpan _interval;
    private DateTimeOffset _last;
    private DateTimeOffset _next;

    /// <summary>Counts a message, and gives whether it is to be shown.</summary>
    public bool Admit(DateTimeOffset at)
    {
        // A clock that was set back begins a new run; else nothing would be said until it has caught up.
        if (_count == 0 || at - _last >= Pause || at < _last)
        {
            (_count, _interval, _next) = (0, TimeSpan.FromSeconds(1), at);
        }

        (_last, _count) = (at, _count + 1);
        if (_count > First && at < _next)
        {
            _unsaid++;
            return false;
        }

        if (_count >= First)
        {
            (_next, _interval) = (at + _interval, _interval * 2 < LongestInterval ? _interval * 2 : LongestInterval);
        }

        return true;
    }

    /// <summary>The run is over; gives how many messages were not shown and not told as a number yet.</summary>
    public int End()
    {
        _count = 0;
        return TakeUnsaid();
    }

    /// <summary>How many messages were not shown since this was asked last.</summary>
    public int TakeUnsaid()
    {
        var unsaid = _unsaid;
        _unsaid = 0;
        return unsaid;
    }
}
