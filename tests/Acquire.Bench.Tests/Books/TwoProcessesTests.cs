using Acquire.Bench.Books;
using Acquire.Bench.Strips;

namespace Acquire.Bench.Tests.Books;

/// <summary>
/// Two programs on one store that decide at once. Each makes up its mind inside the transaction that writes, so that the second sees what
/// the first has entered. Each waits for the other with the books open; who decides outside is caught in that moment.
/// </summary>
public sealed class TwoProcessesTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-two-").FullName;
    private readonly Barrier _bothLook = new(2);
    private AcquireStore _one = null!;
    private AcquireStore _other = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _one = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        _other = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        await _one.AddBookEntriesAsync(SomeBooks.Books().Entered, Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _one.DisposeAsync();
        await _other.DisposeAsync();
        _bothLook.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Name_that_two_programs_give_at_once_is_taken_once()
    {
        var faults = await Task.WhenAll(AddAsync(_one), AddAsync(_other));

        Assert.Single(faults, f => f is null);
        Assert.Contains("There is a line machine already", Assert.Single(faults, f => f is not null)!.Message, StringComparison.Ordinal);
        Assert.Single(new Ledger(await _one.ListBookEntriesAsync(Token)).Lines, l => l.Name == "machine");

        Task<BenchException?> AddAsync(AcquireStore store) => Task.Run(async () =>
        {
            try
            {
                _ = await new DarkroomBooks(store, TimeProvider.System).EnterAsync(
                    new Looking(_bothLook, new LineRequest("machine", LineKind.BenchTopMachine, "c41", new(null, null, null))),
                    new EntryInput("staff"),
                    Token);
                return (BenchException?)null;
            }
            catch (BenchException fault)
            {
                return fault;
            }
        });
    }

    [Fact]
    public async Task Last_entry_that_two_programs_take_back_at_once_is_two_entries()
    {
        var before = new Ledger(await _one.ListBookEntriesAsync(Token)).Standing.Length;
        for (var i = 0; i < 4; i++)
        {
            await Task.WhenAll(UseAsync(_one), UseAsync(_other));
        }

        await Task.WhenAll(Enumerable.Range(0, 4).SelectMany(_ => new[] { UndoAsync(_one), UndoAsync(_other) }));

        Assert.Equal(before, new Ledger(await _one.ListBookEntriesAsync(Token)).Standing.Length);

        Task UseAsync(AcquireStore store) => EnterAsync(
            store, new UseRequest([FilmCount.Of(FilmFormat.ControlStrip)]) { Bottles = [SomeBooks.D7.Name] });

        Task UndoAsync(AcquireStore store) => Task.Run(() => EnterAsync(store, new UndoRequest(null, "entered by mistake")));

        Task EnterAsync(AcquireStore store, BookRequest request) =>
            new DarkroomBooks(store, TimeProvider.System).EnterAsync(request, new EntryInput("staff"), Token);
    }

    [Fact]
    public async Task Strip_that_two_programs_amend_at_once_is_amended_by_both()
    {
        var lot = Support.Strips.Lot();
        var strip = Support.Strips.Strip(lot);
        await _one.AddLotAsync(lot.Lot, Token);
        await _one.AddReferenceAsync(lot.Reference!, Token);
        await _one.AddStripAsync(strip, Token);

        await Task.WhenAll(
            AmendAsync(_one, new StripAmendment("wrong bottle", "staff") { Tags = tags => tags with { Bottle = "D8" } }),
            AmendAsync(_other, new StripAmendment("forgotten", "staff") { Tags = tags => tags with { Note = "first run" } }));

        var amended = (await _one.FindStripAsync(strip.Id.ToString(), Token))!;
        Assert.Equal((3, "D8", "first run"), (amended.Revision.Number, amended.Tags.Bottle, amended.Tags.Note));

        Task AmendAsync(AcquireStore store, StripAmendment amendment) =>
            Task.Run(() => amendment.KeepAsync(store, strip.Id, TimeProvider.System, Token));
    }

    /// <summary>Waits for the other with the books open, then makes what is asked for.</summary>
    private sealed record Looking(Barrier BothLook, BookRequest Asked) : BookRequest
    {
        internal override IEnumerable<BookEntry> Make(BookDraft draft)
        {
            _ = BothLook.SignalAndWait(TimeSpan.FromMilliseconds(300), Token);
            return Asked.Make(draft);
        }
    }
}
