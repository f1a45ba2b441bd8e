package scenarios
