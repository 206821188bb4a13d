using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Acquire.Instruments.Orders;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Readings;

/// <summary>
/// Where a reading gets the link to its instrument: opened for it alone, or lent by a service that holds the port anyway.
/// </summary>
public interface IInstrumentLinks
{
    /// <param name="giveUpAfter">How long an instrument that went away is waited for.</param>
    /// <exception cref="LinkException">It cannot be opened.</exception>
    /// <exception cref="BenchException">Another session reads with this instrument.</exception>
    Task<IInstrumentLink> OpenAsync(InstrumentSetup instrument, TimeSpan giveUpAfter, CancellationToken cancellationToken);
}

/// <summary>The link to an instrument over all its breaks, as long as one reading has it.</summary>
public interface IInstrumentLink : IAsyncDisposable
{
    /// <inheritdoc cref="ReconnectingLink.ReadAllAsync"/>
    IAsyncEnumerable<T> ReadAllAsync<T>(
        Func<IByteLink, CancellationToken, IAsyncEnumerable<T>> read, Func<LinkState, ValueTask> tell, CancellationToken cancellationToken);
}

/// <summary>Opens the port for one reading, and closes it after it.</summary>
public sealed class OwnLinks(ILinkOpener opener, TimeProvider time, ILogger logger) : IInstrumentLinks
{
    public async Task<IInstrumentLink> OpenAsync(
        InstrumentSetup instrument,
        TimeSpan giveUpAfter, CancellationToken cancellationToken) => new OwnLink(await ReconnectingLink.OpenAsync(
            new InstrumentOpener(opener, instrument.Profile, time, logger), instrument.Address,
            instrument.Settings, time, new ReconnectOptions { GiveUpAfter = giveUpAfter }, logger, cancellationToken));

    private sealed class OwnLink(ReconnectingLink link) : IInstrumentLink
    {
        public IAsyncEnumerable<T> ReadAllAsync<T>(
            Func<IByteLink, CancellationToken, IAsyncEnumerable<T>> read,
            Func<LinkState, ValueTask> tell,
            CancellationToken cancellationToken) =>
            link.ReadAllAsync(read, tell, cancellationToken);

        public ValueTask DisposeAsync() => link.DisposeAsync();
    }
}
