using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Tests.Profiles;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Lines;

public sealed class InstrumentReaderTests : IAsyncDisposable
{
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 3, 2, 18, 0, 0, TimeSpan.Zero));
    private readonly ScriptedBytes _link = new();

    public ValueTask DisposeAsync() => _link.DisposeAsync();

    [Fact]
    public async Task ReadAll_delivers_what_came_before_the_fault_then_the_fault()
    {
        _link.Send("No. 1\r\nR 0.26 G 0.62 ");
        _link.Send("B 0.80\r\nR 0.26 G 0.6");
        _link.Break();
        var meanings = new List<LineMeaning>();
        var fault = await Assert.ThrowsAsync<LinkException>(async () =>
        {
            await foreach (var e in Read("labelled-line"))
            {
                meanings.Add(e.Meaning);
            }
        });
        Assert.Equal(LinkFault.Gone, fault.Fault);
        Assert.Equal([LineMeaning.Ignored, LineMeaning.Reading, LineMeaning.Unmatched], meanings);
    }

    [Fact]
    public async Task ReadAll_ends_a_line_at_the_idle_gap_without_starting_a_second_read()
    {
        await using var events = Read("pause-ended-line").GetAsyncEnumerator(TestContext.Current.CancellationToken);
        _link.Send("R0.26G0.62");
        var first = events.MoveNextAsync().AsTask();
        _time.Advance(TimeSpan.FromMilliseconds(200));
        Assert.False(first.IsCompleted);
        _link.Send("B0.80");
        while (_link.Started < 3)
        {
            // The reader takes the bytes on a thread of the pool; its third read shows that it has them.
            await Task.Yield();
        }

        while (!first.IsCompleted)
        {
            _time.Advance(TimeSpan.FromMilliseconds(250));
            await Task.Yield();
        }

        Assert.True(await first);
        Assert.Equal(LineMeaning.Reading, events.Current.Meaning);
        Assert.Equal(1, _link.Reads);
    }

    [Fact]
    public async Task ReadAll_left_early_leaves_no_read_behind()
    {
        _link.Send("R 0.26 G 0.62 B 0.80\r\n");
        await foreach (var e in Read("labelled-line"))
        {
            Assert.Equal(LineMeaning.Reading, e.Meaning);
            break;
        }

        Assert.Equal(0, _link.Reads);
    }

    [Fact]
    public async Task ReadAll_cancelled_throws_and_leaves_no_read_behind()
    {
        using var cancel = new CancellationTokenSource();
        await using var events = InstrumentReader.ReadAllAsync(_link, ShippedProfiles.Get("labelled-line"), _time, cancel.Token)
            .GetAsyncEnumerator(TestContext.Current.CancellationToken);
        var next = events.MoveNextAsync().AsTask();
        await cancel.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => next);
        Assert.Equal(0, _link.Reads);
    }

    private IAsyncEnumerable<InstrumentEvent> Read(string profile) =>
        InstrumentReader.ReadAllAsync(_link, ShippedProfiles.Get(profile), _time, TestContext.Current.CancellationToken);
}
