using Acquire.Bench.Guidance;
using Acquire.Bench.Service;

namespace Acquire.Bench.Tests.Service;

/// <summary>Watchers who come, go and come back miss nothing that moved the session.</summary>
public sealed class LiveEventsTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(0, new[] { 1, 2, 2, 3, 3 })]
    [InlineData(1, new[] { 2, 2, 3, 3 })]
    [InlineData(2, new[] { 2, 3, 3 })]
    [InlineData(3, new[] { 3 })]
    [InlineData(9, new int[0])]
    public async Task Watcher_who_comes_back_gets_all_behind_what_was_seen(int seen, int[] expected)
    {
        var events = new LiveEvents();
        events.Add(Event(1));
        events.Add(Event(2));
        events.Add(Event(2, moved: false));
        events.Add(Event(3));
        events.Add(Event(3, moved: seen > 3));
        events.End();
        Assert.Equal(expected, await Numbers(events, seen));
        Assert.Equal(new[] { 1, 2, 3 }.Where(n => n > seen), events.Since(seen).Select(e => e.Sequence));
    }

    [Fact]
    public async Task Watchers_at_any_pace_see_the_same()
    {
        var events = new LiveEvents();
        var slow = SlowlyAsync(events);
        var quick = Numbers(events, 0);
        for (var n = 1; n <= 500; n++)
        {
            events.Add(Event(n));
        }

        events.End();
        Assert.Equal(Enumerable.Range(1, 500), await quick);
        Assert.Equal(Enumerable.Range(1, 500), await slow);
    }

    /// <summary>
    /// Of a very long session the oldest go; who was there goes on without a gap, who missed those gets what there is, in order.
    /// </summary>
    [Fact]
    public async Task Oldest_events_go_and_what_is_left_stays_in_order()
    {
        var events = new LiveEvents();
        await using var there = events.FollowAsync(0, Token).GetAsyncEnumerator(Token);
        for (var n = 1; n <= 10_000; n++)
        {
            events.Add(Event(n));
            if (n % 7 == 0 || n < 5)
            {
                Assert.True(await there.MoveNextAsync());
            }
        }

        events.End();
        var late = await Numbers(events, 0);
        Assert.Equal(10_000, late[^1]);
        Assert.InRange(late.Count, 1000, 4000);
        Assert.Equal(Enumerable.Range(late[0], late.Count), late);
        Assert.Equal([9_999, 10_000], await Numbers(events, 9_998));
    }

    [Fact]
    public async Task Watcher_who_leaves_ends_at_once()
    {
        var events = new LiveEvents();
        using var leaves = new CancellationTokenSource();
        var watching = Task.Run(async () =>
        {
            await foreach (var happened in events.FollowAsync(0, leaves.Token))
            {
                await leaves.CancelAsync();
            }
        }, Token);
        events.Add(Event(1));
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => watching);
    }

    private static async Task<List<int>> SlowlyAsync(LiveEvents events)
    {
        var seen = new List<int>();
        await foreach (var happened in events.FollowAsync(0, Token))
        {
            seen.Add(happened.Sequence);
            await Task.Yield();
        }

        return seen;
    }

    private static async Task<List<int>> Numbers(LiveEvents events, int after)
    {
        var seen = new List<int>();
        await foreach (var happened in events.FollowAsync(after, Token))
        {
            seen.Add(happened.Sequence);
        }

        return seen;
    }

    private static LiveEvent Event(int sequence, bool moved = true) => new(
        sequence, [], new LiveState(sequence, LivePhase.Reading, GuidedStrip.Begin(Some.Plan()), null, null, null), moved);
}
