namespace Acquire.Storage.Tests.Sessions;

public sealed class SessionTests : StoreFixture
{
    private static readonly SessionEnd Done = new(SessionOutcome.Completed, Some.Evening.AddMinutes(5), "all patches read");

    [Fact]
    public async Task Session_any_lines_read_back_equal_after_reopening()
    {
        var session = await BeginAsync();
        var written = new List<ReceivedLine>();
        await Gens.Line.SampleAsync(
            async line =>
            {
                written.Add(line with { Sequence = written.Count + 1 });
                await Store.AppendAsync(session.Id, [], [written[^1]], Token);
            },
            iter: 200,
            threads: 1);
        await ReopenAsync();

        Deep.Equal(written, await Store.SessionLinesAsync(session.Id, Token));
    }

    [Fact]
    public async Task AppendLine_repeated_changes_nothing_also_after_the_end()
    {
        var session = await BeginAsync();
        await Store.AppendAsync(session.Id, [], [Some.Line(1)], Token);
        await Store.AppendAsync(session.Id, [], [Some.Line(1)], Token);
        await Store.EndSessionAsync(session.Id, Done, Token);
        await Store.AppendAsync(session.Id, [], [Some.Line(1)], Token);

        Deep.Equal(Some.Line(1), Assert.Single(await Store.SessionLinesAsync(session.Id, Token)));
    }

    [Fact]
    public async Task AppendLine_other_bytes_under_one_number_is_refused()
    {
        var session = await BeginAsync();
        await Store.AppendAsync(session.Id, [], [Some.Line(1)], Token);

        var error = await Assert.ThrowsAsync<StoreException>(() => Store.AppendAsync(session.Id, [], [Some.Line(1, "R 9.99")], Token));

        Assert.Equal(StoreFault.Conflict, error.Fault);
        Assert.Contains("R 0.26 G 0.62 B 0.80", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AppendLine_after_the_end_or_without_session_is_refused()
    {
        var session = await BeginAsync();
        await Store.EndSessionAsync(session.Id, Done, Token);

        Assert.Equal(
            StoreFault.Conflict,
            (await Assert.ThrowsAsync<StoreException>(() => Store.AppendAsync(session.Id, [], [Some.Line(1)], Token))).Fault);
        Assert.Equal(
            StoreFault.NotFound,
            (await Assert.ThrowsAsync<StoreException>(() => Store.AppendAsync(Guid.NewGuid(), [], [Some.Line(1)], Token))).Fault);
    }

    [Fact]
    public async Task EndSession_twice_alike_is_once_and_otherwise_is_refused()
    {
        var session = await BeginAsync();
        await Store.EndSessionAsync(session.Id, Done, Token);
        await Store.EndSessionAsync(session.Id, Done, Token);

        var error = await Assert.ThrowsAsync<StoreException>(
            () => Store.EndSessionAsync(session.Id, Done with { Outcome = SessionOutcome.Failed }, Token));

        Assert.Equal(StoreFault.Conflict, error.Fault);
        Assert.Equal(Done, (await Store.FindSessionAsync(session.Id, Token))!.End);
    }

    [Fact]
    public async Task ListOpenSessions_has_those_without_end_only()
    {
        var ended = await BeginAsync();
        var open = Some.Session() with { Kind = SessionKind.LotReference, Provenance = new(Some.Evening.AddHours(1), "Tom", null) };
        await Store.BeginSessionAsync(open, Token);
        await Store.AppendAsync(open.Id, [], [new(1, RawLine.OfText("x", Some.Evening), LineMeaning.Unmatched)], Token);
        await Store.EndSessionAsync(ended.Id, Done, Token);

        var stored = Assert.Single(await Store.ListOpenSessionsAsync(Token));

        Assert.Equal((open, null, 1), (stored.Session, stored.End, stored.Lines));
        Assert.Equal([ended.Id, open.Id], (await Store.ListSessionsAsync(Token)).Select(s => s.Session.Id));
    }

    [Fact]
    public async Task BeginSession_twice_or_without_lot_is_refused()
    {
        var session = await BeginAsync();

        Assert.Equal(StoreFault.Duplicate, (await Assert.ThrowsAsync<StoreException>(() => Store.BeginSessionAsync(session, Token))).Fault);
        Assert.Equal(
            StoreFault.NotFound,
            (await Assert.ThrowsAsync<StoreException>(
                () => Store.BeginSessionAsync(Some.Session() with { LotCode = "none" }, Token))).Fault);
    }

    private async Task<BenchSession> BeginAsync()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var session = Some.Session();
        await Store.BeginSessionAsync(session, Token);
        return session;
    }
}
