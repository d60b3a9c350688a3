// Left alone, the order of tests depends on the folder that they are built in. On every machine it is to be the same, the one they
// are written in; tests of one school may still not lean on it, which a build with -p:ShuffleTests=true in some other folder shows.
#if !SHUFFLE_TESTS
using Xunit;
using Xunit.v3;

[assembly: TestCollectionOrderer(typeof(UnorderedTestCollectionOrderer))]
[assembly: TestClassOrderer(typeof(UnorderedTestClassOrderer))]
[assembly: TestMethodOrderer(typeof(UnorderedTestMethodOrderer))]
[assembly: TestCaseOrderer(typeof(UnorderedTestCaseOrderer))]
#endif
