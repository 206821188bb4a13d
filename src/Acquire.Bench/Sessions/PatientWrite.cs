using System.Diagnostics.CodeAnalysis;
using System.Threading.Channels;
using Acquire.Instruments.Lines;

namespace Acquire.Bench.Sessions;

/// <summary>
/// Writes to a store that another program may hold: waits for it up to a limit, and says so. A backup program or a look into the file from
/// outside must not cost a strip that is half read.
/// </summary>
/// <param name="display">Where it is said, by the task that writes.</param>
/// <param name="time">Measures the wait.</param>
/// <param name="longest">How long is waited.</param>
internal sealed class PatientWrite(IBenchDisplay display, TimeProvider time, TimeSpan longest)
{
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(250);
    private static readonly TimeSpan SaidAfter = TimeSpan.FromSeconds(2);

    /// <inheritdoc cref="DoAsync{T}(Func{Task{T}}, Func{bool}?)"/>
    public Task DoAsync(Func<Task> write, Func<bool>? meanwhile = null) => DoAsync(
        async () =>
        {
            await write();
            return true;
        },
        meanwhile);

    /// <param name="write">One transaction: tried again as a whole.</param>
    /// <param name="meanwhile">Called a few times a second while it waits; it gives whether to wait on. Null for yes.</param>
    /// <exception cref="StoreException">It cannot be written, or the store was held too long.</exception>
    public async Task<T> DoAsync<T>(Func<Task<T>> write, Func<bool>? meanwhile = null)
    {
        var begun = time.GetTimestamp();
        var (said, goesOn) = (false, true);
        while (true)
        {
            var writing = write();
            while (!writing.IsCompleted)
            {
                await ((Task)writing.WaitAsync(Step, time)).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
                if (!writing.IsCompleted)
                {
                    Wait(SaidAfter);
                }
            }

            try
            {
                var result = await writing;
                if (said)
                {
                    display.Show(new BenchUpdate.Notice(FormattableString.Invariant(
                        $"The store takes it again, after {time.GetElapsedTime(begun).TotalSeconds:0.#} s; nothing is lost.")));
                }

                return result;
            }
            catch (StoreException fault) when (fault.Fault == StoreFault.Busy)
            {
                Wait(TimeSpan.Zero);
                if (!goesOn || time.GetElapsedTime(begun) >= longest)
                {
                    throw new StoreException(
                        fault.Fault,
                        FormattableString.Invariant(
                            $"{fault.Message} It was waited for {time.GetElapsedTime(begun).TotalSeconds:0.#} s."),
                        fault);
                }

                await Task.Delay(Step, time);
            }
        }

        void Wait(TimeSpan unsaid)
        {
            goesOn &= meanwhile?.Invoke() ?? true;
            if (!said && time.GetElapsedTime(begun) >= unsaid)
            {
                said = true;
                display.Show(new BenchUpdate.Notice(
                    "The store does not take it yet: another program holds it, or the disk is slow. It is waited for up to "
                    + FormattableString.Invariant($"{longest.TotalSeconds:0} s; what comes meanwhile is kept in memory.")));
            }
        }
    }
}

/// <summary>
/// The queue of a guided reading, from which it can take out and hold what comes while it cannot act on it: the queue has few places, and
/// an instrument does not wait.
/// </summary>
internal sealed class HoldingReader(ChannelReader<BenchInput> inputs) : ChannelReader<BenchInput>
{
    private const int MostAtOnce = 64;
    private const int MostLines = 128;

    private readonly Queue<BenchInput> _held = [];

    /// <summary>Takes out what has come, and gives whether the user goes on; one who cancels waits for nothing more.</summary>
    public bool Hold()
    {
        while (inputs.TryRead(out var input))
        {
            _held.Enqueue(input);
        }

        return !_held.Any(i => i is BenchInput.FromUser { Command: BenchCommand.Cancel });
    }

    /// <summary>
    /// With what came first, what has come from the instrument since: up to where something else was put in between, and no more than a
    /// write that other sessions wait for may have.
    /// </summary>
    public IEnumerable<Reception> With(Reception first)
    {
        yield return first;
        var lines = first.Events.Length;
        for (var n = 1;
            n < MostAtOnce && lines < MostLines && TryPeek(out var next) && next is BenchInput.FromInstrument { Reception: var more };
            n++)
        {
            _ = TryRead(out _);
            lines += more.Events.Length;
            yield return more;
        }
    }

    /// <summary>All that came from the instrument and was not acted on; it is not given again.</summary>
    public IReadOnlyList<Reception> TakeReceptions()
    {
        _ = Hold();
        var all = _held.OfType<BenchInput.FromInstrument>().Select(i => i.Reception).ToList();
        _held.Clear();
        return all;
    }

    public override bool TryRead([MaybeNullWhen(false)] out BenchInput item) => _held.TryDequeue(out item) || inputs.TryRead(out item);

    public override bool TryPeek([MaybeNullWhen(false)] out BenchInput item) => _held.TryPeek(out item) || inputs.TryPeek(out item);

    public override ValueTask<bool> WaitToReadAsync(CancellationToken cancellationToken = default) =>
        _held.Count > 0 ? new(true) : inputs.WaitToReadAsync(cancellationToken);
}
