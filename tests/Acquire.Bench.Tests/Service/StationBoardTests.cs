using Acquire.Bench.Service;

namespace Acquire.Bench.Tests.Service;

public sealed class StationBoardTests
{
    [Fact]
    public void Instruments_stand_on_it_while_their_loop_should_run_and_does_not()
    {
        var board = new StationBoard();
        board.Expects("bench");
        board.Expects("staff");
        board.Runs("staff");
        Assert.Equal("bench", Assert.Single(board.NotRunning).Key);

        board.Runs("bench");
        Assert.Empty(board.NotRunning);

        board.HasEnded("bench", new InvalidOperationException("broke"));
        Assert.Equal(new("bench", "broke"), Assert.Single(board.NotRunning));
        board.Forget("bench");
        Assert.Empty(board.NotRunning);
    }
}
